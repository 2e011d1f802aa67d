/** Which cautions stand on the chair, and for how long: as long as the hazard is in the hands. */
import { describe, expect, it } from 'vitest';
import { layoutOf } from '../../src/engine/layout.ts';
import { waysBackNow } from '../../src/engine/ways-back.ts';
import { pointsToDocument, whyLine } from '../../src/ui/chair/why-line.ts';
import { cautionsInHand, isFirstTime, shortForms } from '../../src/ui/shared/cautions-model.ts';
import {
  caseNamed,
  FAMILIES,
  type Family,
  FamilyChair,
  protocolNamed,
} from '../families/family-chair.ts';
import { runningOf } from '../tools/running-case.ts';

const idsAt = (chair: FamilyChair): readonly string[] =>
  cautionsInHand(runningOf(chair)).map(({ id }) => id);

/** Plays on until this holds; the chair of the nominal pace goes through every step. */
function until(chair: FamilyChair, holds: () => boolean): FamilyChair {
  for (let press = 0; press < 600; press += 1) {
    if (holds()) return chair;
    chair.next();
  }
  throw new Error('it never comes to that');
}

const isRunning = (chair: FamilyChair, step: string): boolean =>
  chair.view.clocks.some(({ kind, of }) => kind === 'dwell' && of === step);
const topIs = (chair: FamilyChair, step: string): boolean => chair.view.offers[0]?.step === step;

describe('cautions in hand', () => {
  it('hydrofluoric acid is told at every unit and at the rinse of each, not only at the first', () => {
    const chair = FamilyChair.of('veneers, universal');
    let [acids, rinses] = [0, 0];
    for (let press = 0; press < 600 && chair.view.offers.length > 0; press += 1) {
      const isAcid = topIs(chair, 'acid') || isRunning(chair, 'acid');
      const isRinse = topIs(chair, 'acid-rinse') || isRunning(chair, 'acid-rinse');
      if (isAcid) acids += 1;
      if (isRinse) rinses += 1;
      if (isAcid || isRinse) expect(idsAt(chair)).toContain('hydrofluoric-acid');
      chair.next();
    }
    // Four units: a start and an end each, and one rinse of them all.
    expect(acids).toBeGreaterThanOrEqual(8);
    expect(rinses).toBeGreaterThanOrEqual(1);
  });

  it('a dwell that runs keeps its caution while another thing stands in the bar', () => {
    const chair = FamilyChair.of('veneers, universal');
    until(chair, () => isRunning(chair, 'etch'));
    // As when cement that ages has turned the bar to something else.
    const { view } = runningOf(chair);
    const other = view.offers.filter(({ step }) => step !== 'etch');
    const attention = { ...view.attention, inHand: other[0] ?? null };
    const elsewhere = { ...view, offers: other, attention };
    const running = runningOf(chair, { view: elsewhere });
    expect(cautionsInHand(running).map(({ id }) => id)).toContain('phosphoric-acid');
    const without = runningOf(chair, { view: { ...elsewhere, clocks: [] } });
    expect(cautionsInHand(without).map(({ id }) => id)).not.toContain('phosphoric-acid');
  });

  it('eyes stand at each of the exposures, while the light is on too', () => {
    const chair = FamilyChair.of('veneers, etch-and-rinse');
    let lit = 0;
    for (let press = 0; press < 600 && chair.view.offers.length > 0; press += 1) {
      const isOn = chair.view.clocks.some(({ kind }) => kind === 'exposure');
      if (isOn) {
        lit += 1;
        expect(idsAt(chair)).toEqual(expect.arrayContaining(['eye-protection', 'pulp-heat']));
      }
      chair.next();
    }
    expect(lit).toBeGreaterThanOrEqual(8);
  });

  it('a window or a rest that runs brings no caution of its own', () => {
    const chair = FamilyChair.of('veneers, universal');
    until(chair, () => chair.view.clocks.some(({ kind }) => kind === 'window'));
    const { clocks, offers } = chair.view;
    const { view } = runningOf(chair);
    const attention = { ...view.attention, inHand: null };
    const alone = { ...view, offers: offers.slice(0, 0), attention };
    const windows = clocks.filter(({ kind }) => kind === 'window' || kind === 'rest');
    expect(cautionsInHand(runningOf(chair, { view: { ...alone, clocks: windows } }))).toEqual([]);
  });

  it('each stands once, whatever asks for it', () => {
    const chair = FamilyChair.of('veneers, universal');
    until(chair, () => isRunning(chair, 'etch') && topIs(chair, 'etch'));
    const lines = shortForms(cautionsInHand(runningOf(chair)));
    expect(lines).toEqual([...new Set(lines)]);
    expect(lines).toContain('Acid burns: off skin, gum, eyes');
  });

  it('those of a way back stand until something is pressed for what it was taken for', () => {
    const chair = FamilyChair.of('veneers, universal');
    until(chair, () => topIs(chair, 'seat'));
    const { state } = chair.log;
    const offer = waysBackNow(state, layoutOf(state)).find(
      ({ wayBack }) => wayBack.id === 'unit-high',
    );
    if (offer === undefined) throw new Error('No way back for a unit that will not seat.');
    const { wayBack, subjects } = offer;
    const subject = subjects[0] ?? '';
    const refused = chair.do({
      do: 'take-way-back',
      wayBack: wayBack.id,
      mishap: wayBack.mishap,
      subjects: [subject],
      reason: 'will not seat',
    });
    expect(refused).toBeNull();
    const wanted = wayBack.cautions ?? [];
    expect(wanted).toEqual(expect.arrayContaining(['aspiration', 'solvent-vapour']));
    expect(idsAt(chair)).toEqual(expect.arrayContaining([...wanted]));
    const presses = chair.log.records.length;
    const isOf = (): boolean =>
      chair.log.records
        .slice(presses)
        .some(({ event }) => 'subjects' in event && event.subjects.includes(subject));
    until(chair, isOf);
    const top = protocolNamed('thin-veneers-universal-selective-etch').steps.find(
      ({ id }) => id === chair.view.offers[0]?.step,
    );
    const ofTop = new Set(top?.cautions ?? []);
    const running = chair.view.clocks.filter(({ kind }) => kind === 'dwell').map(({ of }) => of);
    if (running.length === 0) expect(idsAt(chair).every((id) => ofTop.has(id))).toBe(true);
  });

  it('a protocol of before, without short forms, shows the words of its cautions', () => {
    expect(shortForms([{ id: 'acid', words: 'Acid burns.' }])).toEqual(['Acid burns.']);
  });

  it('the whole words stand before a step only until it was begun once', () => {
    const chair = FamilyChair.of('veneers, universal');
    until(chair, () => topIs(chair, 'acid'));
    expect(isFirstTime(runningOf(chair))).toBe(true);
    chair.next();
    until(chair, () => topIs(chair, 'acid'));
    expect(isFirstTime(runningOf(chair))).toBe(false);
  });
});

describe('the reason for a step', () => {
  it.each([
    ['Couples the ceramic to the resin.', 'Couples the ceramic to the resin.'],
    ['Holds the unit. Fewer margins had defects (Gaile 2022).', 'Holds the unit.'],
    ['Left unexposed it held 3.1 MPa (J Adv Prosthodont 2010;2(2)).', null],
    ['As bone cement did (doi 10.1186/s13018-019-1201-7).', null],
    [`${'Long '.repeat(30)}.`, null],
    [undefined, null],
  ])('of %j the chair shows %j', (why, line) => {
    expect(whyLine(why)).toBe(line);
  });

  it.each(Object.keys(FAMILIES) as Family[])('%s points to no document in the chair', (family) => {
    const protocol = protocolNamed(caseNamed(FAMILIES[family]).protocol);
    const shown = protocol.steps.flatMap(({ title, instruction = '', words, why }) => [
      title,
      instruction,
      words?.start ?? '',
      words?.end ?? '',
      whyLine(why) ?? '',
    ]);
    expect(shown.filter(pointsToDocument)).toEqual([]);
  });
});
