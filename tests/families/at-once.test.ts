/**
 * What has to be answered at once, and the likeliest mishaps beside the bar, in the shipped families.
 * What is likely is common practice, no source.
 */
import { describe, expect, it } from 'vitest';
import { present } from '../../src/base/assert.ts';
import { answersNow } from '../../src/engine/at-once.ts';
import { layoutOf } from '../../src/engine/layout.ts';
import { likelyMishaps } from '../../src/engine/likely-mishaps.ts';
import type { AtOnce } from '../../src/engine/view-types.ts';
import { waysBackNow } from '../../src/engine/ways-back.ts';
import { type Family, FamilyChair, SEATING } from './family-chair.ts';

const isStep = (chair: FamilyChair, step: RegExp) => step.test(chair.view.offers[0]?.step ?? '');

/** Played until the next offer is of this step. */
function playedTo(chair: FamilyChair, step: RegExp): FamilyChair {
  for (let i = 0; i < 1000 && !isStep(chair, step); i++) chair.next();
  expect(isStep(chair, step)).toBe(true);
  return chair;
}

interface Rehearsal {
  readonly chair: FamilyChair;
  /** After each press: the log, and the step that is offered then. */
  readonly kept: (Pick<FamilyChair, 'log' | 'atMs'> & { readonly step: string })[];
}

const rehearsals = new Map<Family, Rehearsal>();

const keptOf = (chair: FamilyChair) => ({
  log: chair.log,
  atMs: chair.atMs,
  step: chair.view.offers[0]?.step ?? '',
});

/** A family is played once, as far as a test asks; every test goes on from there by itself. */
function at(family: Family, step: RegExp): FamilyChair {
  const known = rehearsals.get(family);
  const chair = known?.chair ?? FamilyChair.of(family);
  const { kept } = known ?? { kept: [keptOf(chair)] };
  rehearsals.set(family, { chair, kept });
  const isThere = (each: { readonly step: string } | undefined) => step.test(each?.step ?? '');
  while (!kept.some(isThere)) {
    expect(chair.next()).not.toBeNull();
    kept.push(keptOf(chair));
  }
  return FamilyChair.from(present(kept.find(isThere), String(step)));
}

const answers = ({ log: { state }, view: { at, offers } }: FamilyChair) =>
  answersNow({ state, layout: layoutOf(state), now: at, offers });

const likely = ({ log: { state }, view }: FamilyChair) =>
  likelyMishaps(state, layoutOf(state), view.offers[0] ?? null).map(({ wayBack, subjects }) => [
    wayBack.mishap,
    ...subjects,
  ]);

const told = (found: readonly AtOnce[]) =>
  found.map(({ because, subject, ways }) => ({
    because,
    subject,
    ways: ways.map((way) =>
      way.kind === 'way-back'
        ? `${way.wayBack.mishap} ${way.subjects.join(' ')}`
        : `${way.offer.kind} ${way.offer.step} ${way.offer.subjects.join(' ')}`,
    ),
  }));

/** Takes the way on with this place, as the bar would. */
function take(chair: FamilyChair, at: AtOnce, i: number): void {
  const way = present(at.ways[i], 'way on');
  const no =
    way.kind === 'go-on'
      ? chair.do({ do: 'press', offer: way.offer })
      : chair.do({
          do: 'take-way-back',
          wayBack: way.wayBack.id,
          mishap: way.wayBack.mishap,
          subjects: way.subjects,
          reason: way.wayBack.title,
        });
  expect(no).toBeNull();
}

const firm = (chair: FamilyChair, mix = 'mix:1') =>
  expect(chair.do({ do: 'probe-bead', mix, found: 'firm' })).toBeNull();

describe('a bead that is found firm', () => {
  it.each(SEATING)('asks for the light on what is seated, or the way back: %s', (family) => {
    const chair = at(family, /^(excess|excess-mix|tack)$/);
    expect(answers(chair)).toEqual([]);
    firm(chair);
    const atMs = chair.atMs;
    for (const laterMs of [0, 1000, 20_000]) {
      chair.atMs = atMs + laterMs;
      expect(answers(chair)[0]?.because).toBe('bead-firm');
    }
    const [found] = answers(chair);
    expect(found?.ways.map(({ kind }) => kind)).toEqual(['go-on', 'way-back']);
    for (const i of [0, 1]) {
      const other = FamilyChair.from({ log: chair.log, atMs: chair.atMs });
      take(other, present(found, 'at once'), i);
      // Another way back ends the question: the cement that was firm is no longer out.
      if (i === 1) expect(answers(other)).toEqual([]);
    }
  });

  it('puts the way back first where nothing is seated yet, and a soft one asks nothing', () => {
    const chair = at('veneers, etch-and-rinse', /^load$/);
    expect(chair.do({ do: 'probe-bead', mix: 'mix:1', found: 'soft' })).toBeNull();
    expect(answers(chair)).toEqual([]);
    firm(chair);
    expect(told(answers(chair))).toEqual([
      {
        because: 'bead-firm',
        subject: 'mix:1',
        ways: ['gelled-early mix:1', expect.stringMatching(/^confirm load /)],
      },
    ]);
  });

  it('of cement that was thrown away asks nothing of the portion after it', () => {
    const chair = at('veneers, etch-and-rinse', /^load$/);
    firm(chair);
    take(chair, present(answers(chair)[0], 'at once'), 0);
    playedTo(chair, /^load$/);
    expect(answers(chair)).toEqual([]);
  });
});

describe('cement past its working time', () => {
  it.each(SEATING)('asks for the way back, or to go on: %s', (family) => {
    const chair = at(family, /^(excess|excess-mix|tack)$/);
    const clock = present(chair.view.attention.working, 'working time');
    const leftMs = (clock.maxMs ?? 0) - clock.elapsed.hiMs;
    chair.atMs += leftMs;
    expect(answers(chair)).toEqual([]);
    chair.atMs += 1;
    const [found] = told(answers(chair));
    expect(found?.because).toBe('cement-over');
    expect(found?.ways[0]).toBe('over-time mix:1');
    expect(found?.ways[1]).toMatch(/^(confirm|light-on) /);
    // People who press on have answered; the limit that is passed is watched on.
    take(chair, present(answers(chair)[0], 'at once'), 1);
    expect(answers(chair)).toEqual([]);
    expect(chair.view.attention.watched?.of).toBe(clock.of);
  });
});

describe('cement that may be past its working time', () => {
  it.each(SEATING)('asks once: who goes on has answered: %s', (family) => {
    const chair = at(family, /^(excess|excess-mix|tack)$/);
    const clock = present(chair.view.attention.working, 'working time');
    chair.restartAfter((clock.maxMs ?? 0) - clock.elapsed.hiMs + 30_000);
    const [found] = answers(chair);
    expect(found?.because).toMatch(/^cement-(may-be-)?over$/);
    take(chair, present(found, 'at once'), 1);
    expect(answers(chair)).toEqual([]);
  });
});

describe('the light that failed', () => {
  it.each(SEATING)('asks for the second light until light is on again: %s', (family) => {
    const chair = at(family, /^tack$/);
    expect(answers(chair)).toEqual([]);
    const failed = { wayBack: 'light-failed', mishap: 'light-failed', subjects: ['case'] } as const;
    expect(chair.do({ do: 'take-way-back', ...failed, reason: 'Light failed' })).toBeNull();
    const [found] = answers(chair);
    expect(found?.because).toBe('light-failed');
    expect(told(found ? [found] : [])[0]?.ways).toEqual([expect.stringMatching(/^light-on tack /)]);
    take(chair, present(found, 'at once'), 0);
    expect(answers(chair)).toEqual([]);
    chair.toTheEnd();
    expect(answers(chair)).toEqual([]);
  });

  it.each(SEATING)(
    'asks nothing before light is wanted, nor once another way back is taken: %s',
    (family) => {
      const chair = at(family, /^load$/);
      const failed = {
        wayBack: 'light-failed',
        mishap: 'light-failed',
        subjects: ['case'],
      } as const;
      const no = chair.do({ do: 'take-way-back', ...failed, reason: 'Light failed' });
      if (no === null) expect(answers(chair)).toEqual([]);
      const lit = at(family, /^tack$/);
      expect(lit.do({ do: 'take-way-back', ...failed, reason: 'Light failed' })).toBeNull();
      const late = waysBackNow(lit.log.state, layoutOf(lit.log.state)).find(
        ({ wayBack }) => wayBack.mishap === 'over-time' && wayBack.per === 'mix',
      );
      const { id, mishap } = present(late, 'the way back of late cement').wayBack;
      const given = {
        wayBack: id,
        mishap,
        subjects: ['mix:1'],
        reason: 'no second light',
      } as const;
      expect(lit.do({ do: 'take-way-back', ...given })).toBeNull();
      expect(answers(lit)).toEqual([]);
      playedTo(lit, /^load$/);
      expect(answers(lit)).toEqual([]);
    },
  );
});

describe('the likeliest mishaps', () => {
  it.each(SEATING)('of a unit in the hand are the unit itself: %s', (family) => {
    const chair = at(family, /^load$/);
    const [unit] = chair.view.offers[0]?.subjects ?? [];
    expect(likely(chair)[0]).toEqual(['unit-dropped', unit]);
    playedTo(chair, /^seat$/);
    expect(likely(chair)).toEqual([
      ['unit-will-not-seat', unit],
      ['unit-dropped', unit],
    ]);
  });

  it.each(SEATING)('under the light are of the light: %s', (family) => {
    const chair = at(family, /^expose$/);
    expect(likely(chair)[0]).toEqual(['light-failed', 'case']);
  });

  it('of a conditioned tooth are saliva and blood on that tooth', () => {
    const chair = at('veneers, etch-and-rinse', /^coats$/);
    const teeth = chair.view.offers[0]?.subjects ?? [];
    expect(likely(chair)).toEqual([
      ['saliva', ...teeth],
      ['blood', ...teeth],
    ]);
  });

  it('are none while nothing has begun or all is done', () => {
    const chair = FamilyChair.of('veneers, etch-and-rinse');
    expect(likely(chair)).toEqual([]);
    expect(likely(chair.toTheEnd())).toEqual([]);
  });
});
