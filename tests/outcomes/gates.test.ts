/** Each gate at its edge: shut there, open one beyond. The numbers are the project's own choice. */
import { describe, expect, test } from 'vitest';
import { overCommonYears } from '../../src/outcomes/figures/common-years.ts';
import { compareTwo } from '../../src/outcomes/figures/comparison.ts';
import {
  completeness,
  completenessSays,
  extremes,
  type Followed,
} from '../../src/outcomes/figures/follow-up-length.ts';
import { gates } from '../../src/outcomes/figures/gates.ts';
import { patientsAsLives } from '../../src/outcomes/figures/patients.ts';
import { showing } from '../../src/outcomes/figures/sizes.ts';
import {
  curveAt,
  survivalCurve,
  survivalTable,
} from '../../src/outcomes/figures/survival-curve.ts';
import { wideGaps } from '../../src/outcomes/figures/wide-gaps.ts';
import type { Timed } from '../../src/outcomes/life-types.ts';
import { expectClose } from './vectors.ts';

const group = { name: 'a', patients: 10, expected: 5, completeness: 0.9 };
/** Everything exactly at the number that it takes. */
const enough = {
  lives: 100,
  patientsWithFailure: 10,
  completeness: 0.6,
  groups: [group, { ...group, name: 'b', completeness: 0.8 }],
};

test('all gates at the number that they take are open', () => {
  expect(gates(enough)).toEqual({ isOpen: true });
});

test.each([
  ['lives', { ...enough, lives: 99 }, null, 99, 100],
  ['patientsWithFailure', { ...enough, patientsWithFailure: 9 }, null, 9, 10],
  ['completeness', { ...enough, completeness: 0.599 }, null, 0.599, 0.6],
  [
    'expected',
    { ...enough, groups: [group, { ...group, name: 'b', expected: 4.999 }] },
    'b',
    4.999,
    5,
  ],
  ['patients', { ...enough, groups: [{ ...group, patients: 9 }, group] }, 'a', 9, 10],
] as const)('%s, one short', (gate, facts, of, has, needs) => {
  expect(gates(facts)).toEqual({ isOpen: false, missing: [{ gate, group: of, has, needs }] });
});

test('completeness apart: ten points are open, more are not', () => {
  const apart = (other: number) =>
    gates({ ...enough, groups: [group, { ...group, name: 'b', completeness: other }] });
  expect(apart(0.8).isOpen).toBe(true);
  const shut = apart(0.799);
  expect(shut.isOpen ? [] : shut.missing.map((each) => each.gate)).toEqual(['completenessApart']);
});

test('all that is missing is named at once', () => {
  const shut = gates({
    lives: 10,
    patientsWithFailure: 0,
    completeness: 0.1,
    groups: [
      { name: 'a', patients: 1, expected: 0, completeness: 1 },
      { name: 'b', patients: 1, expected: 0, completeness: 0 },
    ],
  });
  expect(shut.isOpen ? 0 : shut.missing.length).toBe(8);
});

test.each([
  [19, 'counts'],
  [20, 'curve'],
  [99, 'curve'],
  [100, 'all'],
] as const)('%i lives: %s', (lives, shown) => {
  expect(showing(lives)).toBe(shown);
});

test.each([
  [0.8, 'complete'],
  [0.799, 'banner'],
  [0.6, 'banner'],
  [0.599, 'no-comparison'],
] as const)('completeness %d: %s', (share, says) => {
  expect(completenessSays(share)).toBe(says);
});

const year = 365.25;
const life = (o: Partial<Followed> & { readonly patient: string }): Followed => ({
  entry: 0,
  time: 4 * year,
  event: 'none',
  possible: 4 * year,
  ...o,
});

/** 40 patients with 4 units each; in every third the first unit failed, at a day of its own. */
const clinic = (failedEvery: number): readonly Followed[] =>
  Array.from({ length: 160 }, (_, at) => {
    const patient = Math.floor(at / 4);
    const isFailed = at % 4 === 0 && patient % failedEvery === 0;
    return life({
      patient: `p${patient}`,
      time: isFailed ? 100 + at : 4 * year,
      event: isFailed ? 'event' : 'none',
    });
  });

describe('a comparison', () => {
  const compare = (lives: readonly Followed[]) =>
    compareTwo({
      lives,
      isFirst: lives.map((_, at) => at % 8 < 4),
      names: ['a', 'b'],
      graceDays: 200,
    });

  test('opens with enough, and gives no test where it is shut', () => {
    const open = compare(clinic(3));
    expect(open.gates).toEqual({ isOpen: true });
    expect(open.robust?.degrees).toBe(13);
    expect([open.first.failures, open.rest.failures]).toEqual([7, 7]);
    expect(open.first.unitsPerPatient).toBe(4);
    expect(open.patientsInBoth).toBe(0);
    const shut = compare(clinic(5));
    expect(shut.gates.isOpen).toBe(false);
    expect(shut.robust).toBeNull();
    expect(shut.plain.p).not.toBeNull();
  });

  test('nothing at all gives no number', () => {
    const { robust, smallestRatio, plain } = compare([]);
    expect([robust, smallestRatio, plain.p]).toEqual([null, null, null]);
  });
});

test('only the years that both have', () => {
  const lives = [
    life({ patient: 'old', time: 9 * year, event: 'event', possible: 10 * year }),
    life({ patient: 'old 2', time: year, event: 'event', possible: 10 * year }),
    life({ patient: 'new', time: 2 * year, possible: 3 * year }),
    life({ patient: 'new 2', entry: 100, time: 50 * year, possible: 2 * year }),
  ];
  const common = overCommonYears({ lives, groups: ['1', '1', '2', '2'] });
  expect([common.fromDay, common.untilDay]).toEqual([0, 3 * year]);
  expect(common.lives.map(({ time, event }) => [time / year, event])).toEqual([
    [3, 'none'],
    [1, 'event'],
    [2, 'none'],
    [3, 'none'],
  ]);
  expect(common.lives.map((each) => each.possible / year)).toEqual([3, 3, 3, 2]);
  const late = overCommonYears({
    lives: [life({ patient: 'a' }), life({ patient: 'b', entry: 300, time: 400 })],
    groups: ['1', '2'],
  });
  expect([late.fromDay, late.lives.map((each) => each.entry)]).toEqual([300, [300, 300]]);
});

test('both extremes of the unseen', () => {
  const lives = [
    life({ patient: 'seen' }),
    life({ patient: 'a while ago', time: 4 * year - 100 }),
    life({ patient: 'never', time: 0 }),
    life({ patient: 'failed', time: 50, event: 'event' }),
  ];
  const { unseen, allFailed, noneFailed } = extremes(lives, 200);
  expect(unseen).toBe(1);
  expect(allFailed[2]).toMatchObject({ time: 1, event: 'event' });
  expect(noneFailed[2]).toMatchObject({ time: 4 * year, event: 'none' });
  expectClose(completeness(lives), (8 * year - 100 + 50) / (12 * year + 50), 1e-12);
});

describe('a curve', () => {
  test('none failed: never 100 to 100, and each patient counts once', () => {
    const lives = clinic(1000).map((each) => ({ ...each, event: 'none' as const, time: 4 * year }));
    const point = curveAt(lives, year);
    expect(point).toMatchObject({ survival: 1, high: 1, by: ['none-failed'], atRiskAfter: 160 });
    expectClose(point?.low, 0.025 ** (1 / 40), 1e-12);
  });

  test('a year that nobody has reached has no number', () => {
    const rows = survivalTable(clinic(3)).map(({ years, point }) => [years, point === null]);
    expect(rows).toEqual([
      [1, false],
      [3, false],
      [5, true],
      [10, true],
    ]);
    expect(survivalTable([]).every(({ point }) => point === null)).toBe(true);
  });

  test('shows the widest of what applies, and says which', () => {
    const few = survivalCurve(clinic(3));
    expect(few.hasFewPatients).toBe(false);
    expect(few.steps[5]?.by).toEqual(['robust', 'beta-product']);
    const many = survivalCurve(clinic(1));
    expect(many.steps[20]?.by).toEqual(['greenwood', 'robust']);
    for (const step of many.steps) expect(step.low).toBeLessThan(step.survival);
    expect(survivalCurve(clinic(5)).hasFewPatients).toBe(true);
  });

  test('a unit that is lost on the day of its bonding counts', () => {
    const lives: readonly Timed[] = [
      life({ patient: 'a', time: 0, event: 'event' }),
      life({ patient: 'b' }),
    ];
    expect(survivalCurve(lives).steps).toMatchObject([{ day: 0, atRisk: 2, survival: 0.5 }]);
  });
});

test('patients without any failure', () => {
  const found = patientsAsLives([
    life({ patient: 'a', time: 900 }),
    life({ patient: 'a', time: 200 }),
    life({ patient: 'a', time: 300, event: 'event' }),
    life({ patient: 'b', time: 900 }),
    life({ patient: 'b', time: 700, event: 'competing' }),
  ]);
  expect(found).toEqual([
    // Its second unit was not followed to the failure of the third.
    { patient: 'a', entry: 0, time: 200, event: 'none' },
    { patient: 'b', entry: 0, time: 700, event: 'none' },
  ]);
  expect(
    patientsAsLives([
      life({ patient: 'a', time: 900 }),
      life({ patient: 'a', time: 300, event: 'event' }),
    ]),
  ).toEqual([{ patient: 'a', entry: 0, time: 300, event: 'event' }]);
});

test.each([
  [5, 1, false],
  [4, 1, true],
  [0, 0, false],
])('%i failures of which %i in a wide gap: a check is wanted: %s', (failures, wide, wantsCheck) => {
  const lives = [
    { after: 10, by: null },
    ...Array.from({ length: failures }, (_, at) => ({ after: 0, by: at < wide ? 183 : 182 })),
  ];
  expect(wideGaps(lives)).toEqual({ failures, wide, wantsCheck });
});
