/**
 * A unit that was loaded and comes back is wiped out first, found first where it fell, and what is said
 * from then on is said of this unit. In every shipped family that seats with cement.
 */
import { describe, expect, it } from 'vitest';
import { present } from '../../src/base/assert.ts';
import { layoutOf } from '../../src/engine/layout.ts';
import { waysBackNow } from '../../src/engine/ways-back.ts';
import type { Mishap } from '../../src/protocol/types.ts';
import { offerWords } from '../../src/words/offer-words.ts';
import { stepTexts } from '../../src/words/step-texts.ts';
import {
  caseNamed,
  FAMILIES,
  type Family,
  FamilyChair,
  protocolNamed,
  SEATING,
} from './family-chair.ts';

const kept = new Map<string, Pick<FamilyChair, 'log' | 'atMs'>>();

function playedTo(family: Family, step: RegExp): FamilyChair {
  const key = `${family} ${step}`;
  const chair = kept.has(key)
    ? FamilyChair.from(present(kept.get(key), key))
    : FamilyChair.of(family);
  for (let i = 0; i < 1000 && !step.test(chair.view.offers[0]?.step ?? ''); i++) chair.next();
  expect(chair.view.offers[0]?.step).toMatch(step);
  kept.set(key, { log: chair.log, atMs: chair.atMs });
  return chair;
}

const namingOf = ({ log: { state } }: FamilyChair) => ({
  protocol: state.opened.protocol,
  spec: state.opened.spec,
});

/** Takes the first way back for this mishap that fits the subject; answers with the unit's label. */
function goesWrong(chair: FamilyChair, mishap: Mishap, subject: string): void {
  const { state } = chair.log;
  const found = waysBackNow(state, layoutOf(state), mishap).find((w) =>
    w.subjects.includes(subject),
  );
  const { wayBack } = present(found, mishap);
  const taken = { do: 'take-way-back', wayBack: wayBack.id, mishap, subjects: [subject] } as const;
  expect(chair.do({ ...taken, reason: wayBack.title })).toBeNull();
}

/** What the bar asks next, up to this many presses, only what concerns the unit or its teeth. */
function asked(chair: FamilyChair, unit: string, until: RegExp): readonly string[] {
  const { subjects } = layoutOf(chair.log.state);
  const own = [unit, ...subjects.linked(unit, 'tooth')];
  const told: string[] = [];
  for (let i = 0; i < 200; i++) {
    const [top] = chair.view.offers;
    if (top === undefined) return told;
    if (top.subjects.some((s) => own.includes(s))) told.push(offerWords(top, namingOf(chair)));
    if (until.test(top.step) && top.subjects.some((s) => own.includes(s))) return told;
    chair.next();
  }
  return told;
}

const loadedUnit = (chair: FamilyChair): string =>
  present(chair.view.offers[0]?.subjects[0], 'the unit to be seated');

const label = (unit: string) => unit.slice('unit:'.length);

describe('a loaded unit that comes back', () => {
  const OF_LOADED = ['unit-will-not-seat', 'left-in-light', 'unit-dropped'] as const;

  it.each(SEATING.flatMap((family) => OF_LOADED.map((mishap) => [family, mishap] as const)))(
    'is wiped out before it is primed again: %s, %s',
    (family, mishap) => {
      const chair = playedTo(family, /^seat$/);
      const unit = loadedUnit(chair);
      goesWrong(chair, mishap, unit);
      const told = asked(chair, unit, /^primer$/);
      const first = mishap === 'unit-dropped' ? [`${label(unit)} found, whole`] : [];
      expect(told.slice(0, first.length + 1)).toEqual([...first, `${label(unit)} wiped out, dry`]);
      expect(told.at(-1)).toBe(`Primer on ${label(unit)}`);
      expect(told.join('; ')).not.toMatch(/\b(All|Every|Units)\b/);
      expect(chair.toTheEnd().close()).toBeNull();
    },
  );

  it.each(SEATING)(
    'with its cement past the working time is wiped out, others are not: %s',
    (family) => {
      const chair = playedTo(family, /^seat$/);
      const unit = loadedUnit(chair);
      const { state } = chair.log;
      const [mix = ''] = layoutOf(state).subjects.linked(unit, 'mix');
      goesWrong(chair, 'over-time', mix);
      expect(asked(chair, unit, /^primer$/)[0]).toBe(`${label(unit)} wiped out, dry`);
      const wiped = Object.keys(chair.log.state.runs).filter((key) => key.startsWith('wiped-out@'));
      expect(wiped).toEqual([`wiped-out@${unit}`]);
      expect(chair.toTheEnd().close()).toBeNull();
    },
  );
});

describe('a unit that fell before it was loaded', () => {
  it.each(SEATING)('is found and looked over, with nothing to wipe out: %s', (family) => {
    const chair = playedTo(family, /^load$/);
    const unit = loadedUnit(chair);
    goesWrong(chair, 'unit-dropped', unit);
    const told = asked(chair, unit, /^primer$/);
    expect(told[0]).toBe(`${label(unit)} found, whole`);
    expect(told.join('; ')).not.toMatch(/wiped out/);
    // What is loaded later and comes back is wiped out all the same.
    playedToSeat(chair, unit);
    goesWrong(chair, 'unit-will-not-seat', unit);
    expect(asked(chair, unit, /^primer$/)[0]).toBe(`${label(unit)} wiped out, dry`);
  });
});

function playedToSeat(chair: FamilyChair, unit: string): void {
  const isIt = () => {
    const [top] = chair.view.offers;
    return top?.step === 'seat' && top.subjects.includes(unit);
  };
  for (let i = 0; i < 200 && !isIt(); i++) chair.next();
  expect(isIt()).toBe(true);
}

/** Words that speak of all: of no use for one. */
const OF_ALL = /\b(all|every|each) (unit|tooth|teeth|slot|contact)s?\b|\b(units|teeth)\b/i;
/** Words about neighbours or other things, which stay true of one. */
const STAYS = /^(seating-verified|bond-air|bite-adjusted)$/;

describe('texts for one unit', () => {
  const PROTOCOLS = Object.values(FAMILIES).map(
    (id) => [protocolNamed(caseNamed(id).protocol)] as const,
  );

  it.each(PROTOCOLS)('stand wherever a text speaks of all: $id', (protocol) => {
    const spec = {
      ...caseNamed('two-veneers'),
      units: caseNamed('two-veneers').units,
    };
    const subject = {
      unit: 'unit:11',
      tooth: 'tooth:11',
      contact: 'contact:11-21',
      case: 'case',
      mix: 'mix:1',
    };
    for (const step of protocol.steps.filter(({ together }) => together)) {
      const { instruction, words } = stepTexts(step, [subject[step.per]], { protocol, spec });
      const texts = [instruction, words?.start, words?.end].filter((text) => text !== undefined);
      if (STAYS.test(step.id)) continue;
      for (const text of texts) expect.soft(text, step.id).not.toMatch(OF_ALL);
    }
  });

  it('give way to the texts for all where the press is about all', () => {
    const protocol = protocolNamed('thin-veneers-universal-selective-etch');
    const spec = caseNamed('two-veneers');
    const step = present(
      protocol.steps.find(({ id }) => id === 'primer'),
      'primer',
    );
    const both = stepTexts(step, ['unit:11', 'unit:21'], { protocol, spec });
    expect(both.words?.start).toBe('All units wet with primer');
    const one = stepTexts(step, ['unit:11'], { protocol, spec });
    expect(one.instruction).toMatch(/inside of 11;/);
  });
});
