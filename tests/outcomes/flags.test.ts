/** Early flags and lots against the vectors: spc of R, printed tables, scipy. */
import { describe, expect, test } from 'vitest';
import { bernoulliChart, bernoulliWeights } from '../../src/outcomes/figures/bernoulli-cusum.ts';
import {
  exposureChart,
  FALSE_FLAGS,
  limitFor,
  type Watched,
} from '../../src/outcomes/figures/exposure-cusum.ts';
import { lotSays, posterior, priorByMoments } from '../../src/outcomes/figures/lots.ts';
import { DAYS_A_YEAR } from '../../src/outcomes/figures/sizes.ts';
import { logChoose } from '../../src/outcomes/figures/tails.ts';
import { type Dice, diceOf, normal, uniform } from '../../src/plan/random.ts';
import { runSize } from '../tools/run-size.ts';
import {
  cusumRunLength,
  ewma,
  ewmaRunLength,
  exposureRunLength,
  tabularCusum,
} from './textbook-charts.ts';
import { expectClose, vector } from './vectors.ts';

/** A life without exposure that failed on this day: adds a failure and nothing else. */
const failure = (day: number, id = String(day), patient = id): Watched => ({
  id,
  patient,
  fromDay: day,
  toDay: day,
  isFailed: true,
});
/** Lives that are watched for so long and never fail. */
const watching = (count: number, days: number): readonly Watched[] =>
  Array.from({ length: count }, (_, at) => ({
    id: `watched ${at}`,
    patient: `watched ${at}`,
    fromDay: 0,
    toDay: days,
    isFailed: false,
  }));

describe('exposure CUSUM', () => {
  test('steps', () => {
    const { input, expected, tolerance } = vector<
      { expectedPerMonth: number; rateRatio: number; failureMonths: number[]; limit: number },
      readonly { month: number; chart: number }[]
    >('exposure-cusum-steps');
    const found = exposureChart({
      watched: [...watching(1, 40), ...input.failureMonths.map((month) => failure(month))],
      yearlyRate: input.expectedPerMonth * DAYS_A_YEAR,
      ratio: input.rateRatio,
      looks: [],
      today: 40,
      limit: input.limit,
    });
    const points = found.points.map(({ day, chart }) => ({ month: day, chart }));
    expectClose(points, expected, tolerance);
    expect(found.openFlag).toBeNull();
  });

  const { input, expected, tolerance } = vector<
    { limits: readonly number[] },
    readonly { h: number; inControl: number; doubled: number }[]
  >('cusum-exposure-arl');

  test('run lengths by the integral equation', () => {
    const found = input.limits.map((h) => ({
      h,
      inControl: exposureRunLength(h, 1),
      doubled: exposureRunLength(h, 2),
    }));
    expectClose(found, expected, tolerance);
    expectClose(
      FALSE_FLAGS.slice(0, expected.length),
      expected.map(({ h, inControl }) => [h, inControl]),
      1e-6,
    );
    for (const [limit, failures] of FALSE_FLAGS.slice(expected.length, -1)) {
      expect(Math.abs(exposureRunLength(limit, 1) / failures - 1)).toBeLessThan(0.005);
    }
  });

  // Seeded runs of the chart itself; a length varies about as much as it is long.
  test.each([1, 2])('run lengths of the chart itself, failures %i times as often', (times) => {
    const dice = diceOf(11);
    const watched = watching(1, 100_000);
    const limit = 1.5;
    let sum = 0;
    const runs = runSize({ long: 10_000, part: 400 });
    const most = times === 1 ? 120 : 40;
    for (let run = 0; run < runs; run += 1) {
      const failures: Watched[] = [];
      for (let day = 0; failures.length < most; ) {
        day -= Math.log(uniform(dice)) / (times * 0.01);
        failures.push(failure(day));
      }
      const { points } = exposureChart({
        watched: [...watched, ...failures],
        yearlyRate: 0.01 * DAYS_A_YEAR,
        looks: [],
        today: 100_000,
        limit,
      });
      sum += (points.find((point) => point.isFlag)?.day ?? Number.NaN) * 0.01;
    }
    const length = expected.find(({ h }) => h === limit);
    const known = (times === 1 ? length?.inControl : length?.doubled) ?? 0;
    expect(Math.abs(sum / runs / known - 1)).toBeLessThan(3 / Math.sqrt(runs));
  });

  // One false flag in ten years; the table is printed to two figures.
  test.each([
    [1, 1.5],
    [2, 2],
    [4, 2.55],
    [10, 3.3],
    [20, 4],
  ])('expected %d a year: limit %d', (perYear, limit) => {
    expect(Math.abs(limitFor(perYear) - limit)).toBeLessThan(0.05);
    const years = exposureRunLength(limitFor(perYear), 1) / perYear;
    expect(Math.abs(years / 10 - 1)).toBeLessThan(0.03);
  });

  test('a limit never lies below 1, and goes on rising above the table', () => {
    expect(limitFor(0.01)).toBe(1);
    expect(limitFor(0)).toBe(1);
    // 500 lives at an accepted 5 %, and at 20 %.
    for (const perYear of [25, 100]) {
      const years = exposureRunLength(limitFor(perYear), 1) / perYear;
      expect(years).toBeGreaterThan(9.7);
      expect(years).toBeLessThan(10.3);
    }
  });

  const base = { yearlyRate: 0.02, today: 800, looks: [], limit: 2 };
  const hundred = watching(100, 800);

  test('failures of one patient on one day count once', () => {
    const one = exposureChart({
      ...base,
      watched: [...hundred, failure(500, 'a', 'p'), failure(500, 'b', 'p')],
    });
    expect(one.points.map(({ counted, failed }) => [counted, failed])).toEqual([[1, ['a', 'b']]]);
    expectClose(one.points[0]?.chart, Math.LN2, 1e-12);
    const two = exposureChart({
      ...base,
      watched: [...hundred, failure(500, 'a', 'p'), failure(500, 'b', 'q')],
    });
    expectClose(two.points[0]?.chart, 2 * Math.LN2, 1e-12);
  });

  test('after a look the chart starts again', () => {
    const watched = [...hundred, ...[500, 501, 502, 503].map((day) => failure(day))];
    const flagged = exposureChart({ ...base, watched });
    expect(flagged.openFlag?.day).toBe(502);
    const looked = exposureChart({ ...base, watched, looks: [502] });
    expect(looked.openFlag).toBeNull();
    expect(looked.points.map((point) => point.isFlag)).toEqual([false, false, true, false]);
    expectClose(looked.points[3]?.chart, Math.LN2, 1e-12);
    const today = exposureChart({ ...base, watched, looks: [800] });
    expect([today.now, today.openFlag, today.expected]).toEqual([0, null, 0]);
  });

  test('without a given limit it is the one for the year before', () => {
    const { points, expectedPerYear } = exposureChart({
      watched: [...hundred, failure(700)],
      yearlyRate: 0.02,
      today: 800,
      looks: [],
    });
    expectClose(expectedPerYear, 2, 1e-9);
    expectClose(points[0]?.limit, limitFor(2), 1e-9);
  });
});

test('cases with a risk each', () => {
  const { input, expected, tolerance } = vector<
    readonly { p: number; oddsRatio: number }[],
    readonly { failure: number; success: number }[]
  >('cusum-bernoulli-weights');
  const weights = input.map(({ p, oddsRatio }) => bernoulliWeights({ risk: p, oddsRatio }));
  expectClose(weights, expected, tolerance);
  const [first] = expected;
  const chart = bernoulliChart(
    [true, false, true].map((isFailed) => ({ risk: 0.02, isFailed })),
    2,
  );
  const up = first?.failure ?? 0;
  expectClose(chart, [up, up + (first?.success ?? 0), 2 * up + (first?.success ?? 0)], tolerance);
});

describe('textbook charts', () => {
  test('tabular CUSUM', () => {
    const { input, expected, tolerance } = vector<
      { x: readonly number[]; target: number; allowance: number; limit: number },
      { upper: readonly number[]; firstAbove: number }
    >('cusum-textbook');
    const upper = tabularCusum(input);
    const firstAbove = upper.findIndex((each) => each > input.limit) + 1;
    expectClose({ upper, firstAbove }, expected, tolerance);
  });

  test('EWMA', () => {
    const { input, expected, tolerance } = vector<
      { x: readonly number[]; target: number; sigma: number; weight: number; width: number },
      { z: readonly number[]; upper: readonly number[]; firstAbove: number }
    >('ewma-textbook');
    const { z, upper } = ewma(input);
    const firstAbove = z.findIndex((each, at) => each > (upper[at] ?? 0)) + 1;
    expectClose({ z, upper, firstAbove }, expected, tolerance);
  });

  const { input, expected, tolerance } = vector<
    { shifts: readonly number[] },
    { cusumH4: readonly number[]; cusumH5: readonly number[]; ewma: readonly number[] }
  >('arl-normal');

  test('run lengths', () => {
    const cusum = (limit: number) =>
      input.shifts.map((shift) => cusumRunLength({ allowance: 0.5, limit, shift }));
    const found = {
      cusumH4: cusum(4),
      cusumH5: cusum(5),
      ewma: input.shifts.map((shift) => ewmaRunLength({ weight: 0.1, width: 2.7, shift })),
    };
    expectClose(found, expected, tolerance);
  });

  test('run lengths of the chart itself', () => {
    const length = (shift: number, dice: Dice): number => {
      let [upper, lower] = [0, 0];
      for (let n = 1; ; n += 1) {
        const x = shift + normal(dice);
        upper = Math.max(0, upper + x - 0.5);
        lower = Math.max(0, lower - x - 0.5);
        if (upper > 4 || lower > 4) return n;
      }
    };
    const dice = diceOf(5);
    const runs = 10_000;
    const at = input.shifts.indexOf(1);
    let sum = 0;
    for (let run = 0; run < runs; run += 1) sum += length(1, dice);
    expect(Math.abs(sum / runs / (expected.cusumH4[at] ?? 0) - 1)).toBeLessThan(0.03);
  });
});

describe('lots', () => {
  test.each([
    vector<BetaInput, BetaPrinted>('beta-binomial-rats'),
    vector<BetaInput, BetaPrinted>('beta-binomial-uniform'),
  ])('beta-binomial %#', ({ input, expected, tolerance }) => {
    const { a, b, ...rest } = posterior({
      prior: { a: input.priorA, b: input.priorB },
      failures: input.failures,
      units: input.n,
    });
    expectClose({ posteriorA: a, posteriorB: b, ...rest }, expected, tolerance);
  });

  test('a prior by its moments', () => {
    const { input, expected, tolerance } = vector<
      { mean: number; sd: number },
      { a: number; b: number }
    >('beta-prior-moments');
    expectClose(priorByMoments(input.mean, input.sd), expected, tolerance);
  });

  test('what a lot says', () => {
    const { input, expected, tolerance } = vector<
      { lots: readonly (readonly [number, number])[] },
      readonly { failures: number; n: number; pAbove4Percent: number }[]
    >('lot-flag');
    const found = input.lots.map(([failures, n]) => {
      const says = lotSays({ failures, units: n, patientsWithFailure: failures, usualShare: 0.02 });
      return { failures, n, ...says, pAbove4Percent: says.pAboveTwice };
    });
    expectClose(found, expected, tolerance);
    // Three of 20 are to be looked at, three of 60 are not, and three of one patient never are.
    expect(found.map((lot) => lot.isToLookAt)).toEqual([false, false, false, true, false, true]);
    const one = { failures: 3, units: 20, patientsWithFailure: 1, usualShare: 0.02 };
    expect(lotSays(one).isToLookAt).toBe(false);
    const two = lotSays({ failures: 2, units: 2, patientsWithFailure: 2, usualShare: 0.02 });
    expect([two.pAboveTwice > 0.5, two.isToLookAt]).toEqual([true, false]);
  });

  // Chances worked out from the binomial distribution, independent units.
  test.each([
    [20, 0.02, 0.007],
    [20, 0.06, 0.12],
    [20, 0.1, 0.32],
    [80, 0.02, 0.022],
    [80, 0.06, 0.53],
    [80, 0.1, 0.91],
  ])(
    'a lot of %i at a true share of %d is to be looked at with chance %d',
    (units, share, chance) => {
      let sum = 0;
      for (let failures = 0; failures <= units; failures += 1) {
        const says = lotSays({ failures, units, patientsWithFailure: 2, usualShare: 0.02 });
        if (!says.isToLookAt) continue;
        const log = failures * Math.log(share) + (units - failures) * Math.log(1 - share);
        sum += Math.exp(logChoose(units, failures) + log);
      }
      expect(Math.abs(sum - chance)).toBeLessThan(chance < 0.1 ? 0.0006 : 0.006);
    },
  );
});

interface BetaInput {
  readonly priorA: number;
  readonly priorB: number;
  readonly failures: number;
  readonly n: number;
}

interface BetaPrinted {
  readonly posteriorA: number;
  readonly posteriorB: number;
  readonly mean: number;
  readonly sd: number;
  readonly low: number;
  readonly high: number;
}

/**
 * A hundred units at the accepted rate, each that is lost replaced, seen once a year: how many of the clinics ever see a
 * flag in ten years. One false flag in ten years on average is 1 - 1/e, 63 %.
 */
function flaggedShare(clinics: number, countedForDays: number): number {
  const dice = diceOf(11);
  const years = 10;
  let flagged = 0;
  for (let clinic = 0; clinic < clinics; clinic += 1) {
    const lives: { from: number; fails: number; phase: number; id: string }[] = [];
    for (let place = 0; place < 100; place += 1) {
      const phase = Math.floor(uniform(dice) * 365);
      for (let from = 0; from < years * 365; ) {
        const days = Math.round((-Math.log(1 - uniform(dice)) / 0.02) * DAYS_A_YEAR);
        const fails = from + Math.max(1, days);
        lives.push({ from, fails, phase, id: String(lives.length) });
        from = fails;
      }
    }
    const seen = (o: { from: number; phase: number }, today: number): number =>
      Math.max(o.from, Math.floor((today - o.phase) / 365) * 365 + o.phase);
    const chartOn = (today: number) =>
      exposureChart({
        yearlyRate: 0.02,
        looks: [],
        today,
        watched: lives.flatMap((one): Watched[] => {
          if (one.from > today) return [];
          const isFailed = one.fails <= today;
          const inPlace = Math.min(today, seen(one, today) + countedForDays);
          const toDay = isFailed ? one.fails : inPlace;
          return [{ id: one.id, patient: one.id, fromDay: one.from, toDay, isFailed }];
        }),
      });
    const days = lives.flatMap(({ fails }) => (fails <= years * 365 ? [fails] : []));
    if (days.some((day) => chartOn(day).openFlag !== null)) flagged += 1;
  }
  return flagged / clinics;
}

test('a unit that counts as in place until its recall is due keeps false flags at one in ten years', () => {
  const clinics = runSize({ long: 400, part: 40 });
  const spread = 4 * Math.sqrt((0.63 * 0.37) / clinics);
  expect(Math.abs(flaggedShare(clinics, 365) - 0.63)).toBeLessThan(spread);
  // Counted to its last sight alone, nearly every clinic would see one.
  expect(flaggedShare(clinics, 0)).toBeGreaterThan(0.9);
});
