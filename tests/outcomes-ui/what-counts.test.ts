/** What counts, from when on, and under which name. Clinics of a few lines, counted by hand. */
import { expect, test } from 'vitest';
import { addDays } from '../../src/outcomes/days.ts';
import type { BondedCase, FollowUp, UnitFound } from '../../src/outcomes/follow-up-types.ts';
import { outcomesModel } from '../../src/outcomes/model/outcomes-model.ts';
import { BONDED_ON, followUpOf, inputOf, type SmallUnit } from './small-clinic.ts';

const kept = (n: number, day: number): readonly SmallUnit[] =>
  Array.from({ length: n }, (_, at) => ({ patient: `kept ${at}`, day, end: 'none' }));

const modelOf = (followUps: readonly FollowUp[]) => outcomesModel(inputOf([], { followUps }));

/** The same, bonded otherwise. */
const bondedAs = (one: FollowUp, change: Partial<BondedCase>): FollowUp =>
  one.bonded === null ? one : { ...one, bonded: { ...one.bonded, ...change } };

/** The same, found otherwise at its visit. */
const foundAs = (one: FollowUp, change: (unit: UnitFound) => UnitFound): FollowUp => ({
  ...one,
  visits: one.visits.map((kept) => ({
    ...kept,
    visit: { ...kept.visit, units: kept.visit.units.map(change) },
  })),
});

/** The same, followed only from the thousandth day on. */
const late = (one: FollowUp): FollowUp => bondedAs(one, { seenFrom: addDays(BONDED_ON, 1000) });

const LOST: SmallUnit = { patient: 'lost', day: 100, end: 'event' };

test('a patient whose unit was bonded again still had a failure', () => {
  const again = foundAs(followUpOf(LOST, 0), (unit) => ({ ...unit, done: 'bonded-again' }));
  const all = [again, ...kept(21, 3900).map((one, n) => followUpOf(one, n + 1))];
  const [year] = modelOf(all).rows;
  // 21 of 22 patients; the second life of the unit began on the day of the failure.
  expect(year?.patients?.survival).toBeCloseTo(21 / 22, 12);
});

test('follow-up counts from when each was followed, also where many came late', () => {
  const never = kept(3, 0).map((one, n) => followUpOf({ ...one, patient: `never ${n}` }, n));
  const came = kept(20, 1365).map((one, n) => late(followUpOf(one, n + 3)));
  // Three were never looked at, twenty for a year each.
  expect(modelOf([...never, ...came]).followed.median).toBe(365);
});

test('a step that was made with few, before many came, is told beside the curve', () => {
  const early = [followUpOf(LOST, 0), followUpOf({ patient: 'early', day: 200, end: 'none' }, 1)];
  const came = kept(25, 3900).map((one, n) => late(followUpOf(one, n + 2)));
  expect(modelOf([...early, ...came]).curve?.fewAt).toEqual({ day: 100, atRisk: 2 });
  const usual = [LOST, ...kept(25, 3900)].map(followUpOf);
  expect(modelOf(usual).curve?.fewAt).toBeNull();
  // At the end of a curve few remain, and no more come.
  const last = [{ ...LOST, day: 3950 }, ...kept(25, 3900), ...kept(2, 3960)].map(followUpOf);
  expect(modelOf(last).curve?.fewAt).toBeNull();
});

test('what was never looked at belongs to what is not known', () => {
  const { counts } = modelOf([LOST, ...kept(2, 0), ...kept(3, 3900)].map(followUpOf));
  expect([counts.lives, counts.failures, counts.seen, counts.notKnown]).toEqual([6, 1, 4, 2]);
});

test('a day that the patient states is not told as the day on which it was found', () => {
  const stated = followUpOf(LOST, 0);
  const found = foundAs(stated, ({ unit, findings }) => ({ unit, findings }));
  expect(modelOf([stated]).cases[0]?.isStated).toBe(true);
  expect(modelOf([found]).cases[0]?.isStated).toBe(false);
});

test('two limits of one title are told apart by their ids', () => {
  const one = followUpOf(LOST, 0);
  const limits = (['step/primer-air', 'step/bond-air', 'step/rinse'] as const).map((limit) => ({
    limit,
    title: limit === 'step/rinse' ? 'Rinse' : 'Air',
    state: 'kept' as const,
  }));
  const units = one.bonded?.units.map((unit) => ({ ...unit, limits })) ?? [];
  const { limitTitles } = modelOf([bondedAs(one, { units })]);
  expect(limitTitles).toEqual([
    ['step/bond-air', 'Air (bond-air)'],
    ['step/primer-air', 'Air (primer-air)'],
    ['step/rinse', 'Rinse'],
  ]);
});

test('a visit or a bonding of a day that has not come, by a clock that is wrong, counts when it has', () => {
  const future = followUpOf({ patient: 'later', day: 6000, end: 'event' }, 0);
  const counts = modelOf([future]).counts;
  expect([counts.lives, counts.seen, counts.failures, counts.unitYears]).toEqual([1, 0, 0, 0]);
  const unseen = followUpOf({ ...LOST, day: 0, end: 'none' }, 1);
  expect(modelOf([unseen]).counts.lives).toBe(1);
  expect(modelOf([bondedAs(unseen, { bondedOn: '2031-01-01' })]).counts.lives).toBe(0);
});
