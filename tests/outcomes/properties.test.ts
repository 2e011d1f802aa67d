/**
 * What must hold for any data. The data are drawn with dice; what is compared with is arithmetic, or the same
 * figure of data that must not differ.
 */
import { describe, expect, test } from 'vitest';
import { present } from '../../src/base/assert.ts';
import { cumulativeIncidence } from '../../src/outcomes/figures/cumulative-incidence.ts';
import { kaplanMeier } from '../../src/outcomes/figures/kaplan-meier.ts';
import { logRank } from '../../src/outcomes/figures/log-rank.ts';
import {
  permutable,
  permutationP,
  permutePortion,
} from '../../src/outcomes/figures/permuted-within.ts';
import { robustErrors } from '../../src/outcomes/figures/robust-error.ts';
import { lifeScores, robustLogRank } from '../../src/outcomes/figures/robust-log-rank.ts';
import { survivalCurve, survivalTable } from '../../src/outcomes/figures/survival-curve.ts';
import { turnbull } from '../../src/outcomes/figures/turnbull.ts';
import type { Timed } from '../../src/outcomes/life-types.ts';
import { type Dice, diceOf, uniform } from '../../src/plan/random.ts';
import { expectClose } from './vectors.ts';

const SEEDS = [1, 2, 3, 4, 5];

interface Drawn {
  readonly lives: readonly Timed[];
  readonly isFirst: readonly boolean[];
  readonly strata: readonly string[];
}

/** Few distinct days, so that there are ties. */
function draw(
  seed: number,
  o: { readonly unitsEach?: number; readonly late?: boolean } = {},
): Drawn {
  const dice = diceOf(seed);
  const below = (n: number): number => Math.floor(uniform(dice) * n);
  const rows = Array.from({ length: 60 }, (_, at) => {
    const entry = o.late === true && below(3) === 0 ? below(20) : 0;
    const kind = below(4);
    return {
      life: {
        entry,
        time: entry + 1 + below(40),
        event:
          kind === 0 ? ('none' as const) : kind === 1 ? ('competing' as const) : ('event' as const),
        patient: `p${Math.floor(at / (o.unitsEach ?? 4))}`,
      },
      isFirst: below(2) === 0,
      stratum: `s${below(2)}`,
    };
  });
  return {
    lives: rows.map((row) => row.life),
    isFirst: rows.map((row) => row.isFirst),
    strata: rows.map((row) => row.stratum),
  };
}

function shuffled(drawn: Drawn, dice: Dice): Drawn {
  const order = drawn.lives.map((_, at) => ({ at, key: uniform(dice) }));
  order.sort((a, b) => a.key - b.key);
  const by = <T>(of: readonly T[]): readonly T[] => order.map(({ at }) => present(of[at], 'a row'));
  return { lives: by(drawn.lives), isFirst: by(drawn.isFirst), strata: by(drawn.strata) };
}

const named = (drawn: Drawn): readonly string[] =>
  drawn.isFirst.map((first) => (first ? 'a' : 'b'));

describe.each(SEEDS)('data of seed %i', (seed) => {
  test('every unit its own patient gives the error of Greenwood', () => {
    const { lives } = draw(seed, { unitsEach: 1 });
    const greenwood = kaplanMeier(lives).map((step) => step.greenwood);
    expect(greenwood.length).toBeGreaterThan(10);
    expectClose(robustErrors(lives), greenwood, 1e-12);
  });

  test('several units a patient give another error', () => {
    const { lives } = draw(seed);
    const [last] = kaplanMeier(lives).filter((step) => step.survival < 0.5);
    const errors = robustErrors(lives);
    const robust = errors[kaplanMeier(lives).findIndex((step) => step.day === last?.day)];
    expect(Math.abs((robust ?? 0) - (last?.greenwood ?? 0))).toBeGreaterThan(1e-4);
  });

  test('the order of rows changes nothing', () => {
    const drawn = draw(seed, { late: true });
    const other = shuffled(drawn, diceOf(seed + 100));
    expect(other.lives).not.toEqual(drawn.lives);
    const figures = ({ lives, isFirst, strata }: Drawn) => ({
      curve: survivalCurve(lives),
      table: survivalTable(lives),
      incidence: cumulativeIncidence(lives),
      plain: logRank({ lives, groups: named({ lives, isFirst, strata }), strata }),
      robust: robustLogRank({ lives, isFirst, strata }),
    });
    expectClose(figures(other), figures(drawn), 1e-10);
  });

  test('swapped labels change the sign and nothing else', () => {
    const { lives, isFirst, strata } = draw(seed, { late: true });
    const swapped = isFirst.map((first) => !first);
    const one = present(robustLogRank({ lives, isFirst, strata }), 'a test');
    const other = present(robustLogRank({ lives, isFirst: swapped, strata }), 'a test');
    expectClose(
      { ...other, t: -other.t },
      { ...one, observedMinusExpected: other.observedMinusExpected },
      1e-10,
    );
    expectClose(-other.observedMinusExpected, one.observedMinusExpected, 1e-10);
    const groups = isFirst.map((first) => (first ? 'a' : 'b'));
    const back = isFirst.map((first) => (first ? 'b' : 'a'));
    const plain = logRank({ lives, groups, strata });
    expectClose(logRank({ lives, groups: back, strata }).chiSquare, plain.chiSquare, 1e-10);
  });

  test('a life that ended before the first failure changes nothing', () => {
    const { lives, isFirst } = draw(seed, { late: true });
    const later = lives.map((life) => ({
      ...life,
      time: life.time + 10,
      entry: life.entry + (life.entry > 0 ? 10 : 0),
    }));
    const early: Timed = { entry: 0, time: 5, event: 'none', patient: 'early' };
    const without = (of: readonly Timed[]) => kaplanMeier(of);
    expect(without([...later, early])).toEqual(without(later));
    expect(robustErrors([...later, early])).toEqual(robustErrors(later));
    const test = robustLogRank({ lives: later, isFirst });
    expect(robustLogRank({ lives: [...later, early], isFirst: [...isFirst, true] })).toEqual(test);
  });

  test('incidences and the event-free share sum to 1', () => {
    const steps = cumulativeIncidence(draw(seed, { late: true }).lives);
    expect(steps.length).toBeGreaterThan(10);
    for (const { eventFree, failed, competingFirst } of steps) {
      expectClose(eventFree + failed + competingFirst, 1, 1e-12);
    }
  });

  test('the robust sum is observed less expected of the plain test', () => {
    const drawn = draw(seed, { late: true });
    const plain = logRank({ lives: drawn.lives, groups: named(drawn), strata: drawn.strata });
    const robust = present(robustLogRank(drawn), 'a test');
    const difference = (plain.observed[0] ?? 0) - (plain.expected[0] ?? 0);
    expectClose(robust.observedMinusExpected, difference, 1e-10);
    // The permuted statistic is the same number, as a sum over the first group.
    const residuals = lifeScores(drawn).reduce(
      (sum, score, at) => sum + (drawn.isFirst[at] === true ? score.residual : 0),
      0,
    );
    expectClose(residuals, difference, 1e-10);
    expectClose(permutable(drawn).observedMinusExpected, difference, 1e-10);
  });

  test('exact days give the curve of Kaplan and Meier', () => {
    const lives = draw(seed, { late: true }).lives.map((life) => ({
      ...life,
      event: life.event === 'event' ? ('event' as const) : ('none' as const),
    }));
    // Up to the first day at which nobody is left, where both are defined.
    const steps = kaplanMeier(lives).filter((step) => step.survival > 0);
    const falls = turnbull(
      lives.map(({ entry, time, event }) => ({
        entry,
        after: time,
        by: event === 'event' ? time : null,
      })),
    ).falls.filter((fall) => fall.by !== null && fall.survivalAfter > 1e-9);
    expectClose(
      falls.map((fall) => [fall.by, fall.survivalAfter]),
      steps.map((step) => [step.day, step.survival]),
      1e-4,
    );
  });
});

// Worked out by hand: on day 5 two lives are at risk, the third enters on that day and counts from the next on.
test('a life that enters on the day of a failure has no part in it', () => {
  const lives: readonly Timed[] = [
    { entry: 0, time: 5, event: 'event', patient: 'a' },
    { entry: 0, time: 10, event: 'none', patient: 'b' },
    { entry: 5, time: 10, event: 'none', patient: 'c' },
  ];
  expect(kaplanMeier(lives)).toMatchObject([{ day: 5, atRisk: 2, survival: 0.5 }]);
  expectClose(robustErrors(lives), [0.5 * Math.sqrt(0.25 + 0.25)], 1e-12);
  expectClose(cumulativeIncidence(lives)[0]?.errorFailed, 0.5 * Math.sqrt(0.25 + 0.25), 1e-12);
  const isFirst = [true, false, false];
  expect(lifeScores({ lives, isFirst })[2]).toEqual({ centred: 0, residual: 0 });
});

describe('labels permuted within patients', () => {
  const one: Timed = { entry: 0, time: 10, event: 'event', patient: 'p' };

  // Two patients with two units each: four ways to label them, so p is known by counting.
  test('by counting all labels', () => {
    const lives: readonly Timed[] = [
      { ...one, patient: 'p', time: 5 },
      { ...one, patient: 'p', time: 20, event: 'none' },
      { ...one, patient: 'q', time: 6 },
      { ...one, patient: 'q', time: 20, event: 'none' },
    ];
    const isFirst = [true, false, true, false];
    const of = permutable({ lives, isFirst });
    expect(of.patientsThatDiffer).toBe(2);
    const draws = 20_000;
    const p = permutationP(permutePortion({ of, seed: 1, portion: 0, draws }), draws);
    // Both failed units labelled, or neither: 2 of 4.
    expect(Math.abs(p - 0.5)).toBeLessThan(0.02);
  });

  // Two of three units of one patient have the label: three ways, one of them as far as the one seen.
  test('by counting all labels, three units', () => {
    const lives: readonly Timed[] = [
      { ...one, time: 5 },
      { ...one, time: 6 },
      { ...one, time: 20, event: 'none' },
    ];
    const of = permutable({ lives, isFirst: [true, true, false] });
    const draws = 20_000;
    const p = permutationP(permutePortion({ of, seed: 1, portion: 0, draws }), draws);
    expect(Math.abs(p - 1 / 3)).toBeLessThan(0.02);
    expect(permutationP(0, 99)).toBe(0.01);
  });

  test('portions: the same for one seed, different from one another', () => {
    const drawn = draw(1);
    const of = permutable(drawn);
    const portion = (at: number, seed = 7) => permutePortion({ of, seed, portion: at, draws: 500 });
    expect(portion(3)).toBe(portion(3));
    const all = [0, 1, 2, 3, 4, 5, 6, 7].map((at) => portion(at));
    expect(new Set(all).size).toBeGreaterThan(1);
    expect(permutable(JSON.parse(JSON.stringify(drawn)))).toEqual(of);
  });

  test('a patient whose units are alike adds nothing that changes', () => {
    const lives = [one, { ...one, time: 12 }, { ...one, patient: 'q', time: 11 }];
    const of = permutable({ lives, isFirst: [true, true, false] });
    expect(of.patientsThatDiffer).toBe(0);
    expect(permutePortion({ of, seed: 1, portion: 0, draws: 10 })).toBe(10);
    expect(permutationP(10, 10)).toBe(1);
  });
});
