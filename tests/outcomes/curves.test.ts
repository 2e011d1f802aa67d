/** Curves and their limits against the vectors: R with survival and KMsurv, and printed examples. */
import { describe, expect, test } from 'vitest';
import { present } from '../../src/base/assert.ts';
import {
  betaProductLimits,
  noneFailed,
  noneFailedLimits,
} from '../../src/outcomes/figures/beta-product.ts';
import { exactLimits } from '../../src/outcomes/figures/binomial-limits.ts';
import {
  cumulativeIncidence,
  incidenceAt,
} from '../../src/outcomes/figures/cumulative-incidence.ts';
import { completeness, medianFollowUp } from '../../src/outcomes/figures/follow-up-length.ts';
import { kaplanMeier, stepAt, survivalAt } from '../../src/outcomes/figures/kaplan-meier.ts';
import { logLogLimits } from '../../src/outcomes/figures/log-log-limits.ts';
import { medianLife } from '../../src/outcomes/figures/median-life.ts';
import { atRiskAfter } from '../../src/outcomes/figures/risk-table.ts';
import { robustErrors } from '../../src/outcomes/figures/robust-error.ts';
import { type Fall, turnbull } from '../../src/outcomes/figures/turnbull.ts';
import { type Columns, expectClose, livesOf, vector } from './vectors.ts';

interface PrintedStep {
  readonly t: number;
  readonly atRisk: number;
  readonly events: number;
  readonly survival: number;
  readonly standardError: number | null;
  readonly logLogLow: number | null;
  readonly logLogHigh: number | null;
}

const printed = (input: Columns): readonly PrintedStep[] =>
  kaplanMeier(livesOf(input)).map((step) => {
    const { survival, greenwood } = step;
    const limits = greenwood === null ? null : logLogLimits({ survival, error: greenwood });
    return {
      t: step.day,
      atRisk: step.atRisk,
      events: step.failures,
      survival,
      standardError: greenwood,
      logLogLow: limits?.low ?? null,
      logLogHigh: limits?.high ?? null,
    };
  });

describe('survival', () => {
  test.each([
    vector<Columns, readonly PrintedStep[]>('km-6mp'),
    vector<Columns, readonly PrintedStep[]>('km-placebo'),
    vector<Columns, readonly PrintedStep[]>('left-truncation'),
  ])('steps, Greenwood and log-log limits %#', ({ input, expected, tolerance }) => {
    expectClose(printed(input), expected, tolerance);
  });

  test('the median, and an upper limit that is not reached', () => {
    const { input, expected, tolerance } = vector<
      Columns,
      { median: number; logLogLow: number; logLogHigh: null }
    >('median-6mp');
    const { median, low, high } = medianLife(livesOf(input));
    expectClose({ median, logLogLow: low, logLogHigh: high }, expected, tolerance);
  });

  test('median follow-up', () => {
    const { input, expected, tolerance } = vector<Columns, { median: number }>('reverse-km-6mp');
    expectClose({ median: medianFollowUp(livesOf(input)) }, expected, tolerance);
  });

  test('the error that counts the patient as one', () => {
    const { input, expected, tolerance } = vector<
      Columns,
      readonly {
        t: number;
        survival: number;
        greenwood: number;
        robust: number;
        robustLogLogLow: number;
        robustLogLogHigh: number;
      }[]
    >('cluster-km');
    const lives = livesOf(input);
    const steps = kaplanMeier(lives);
    const errors = robustErrors(lives);
    const found = expected.map(({ t }) => {
      const step = present(stepAt(steps, t), 'a step');
      const robust = present(errors[steps.indexOf(step)], 'an error');
      const { survival, greenwood } = step;
      const limits = present(logLogLimits({ survival, error: robust }), 'limits');
      const { low: robustLogLogLow, high: robustLogLogHigh } = limits;
      return { t, survival, greenwood, robust, robustLogLogLow, robustLogLogHigh };
    });
    expectClose(found, expected, tolerance);
  });
});

describe('few failures', () => {
  test('beta product', () => {
    const { input, expected, tolerance } = vector<
      Columns & { at: readonly number[] },
      readonly { t: number; survival: number; atRiskAfter: number; low: number; high: number }[]
    >('beta-product-6mp');
    const lives = livesOf(input);
    const found = input.at.map((t) => ({
      t,
      survival: survivalAt(kaplanMeier(lives), t),
      atRiskAfter: atRiskAfter(lives, t),
      ...betaProductLimits(lives, t),
    }));
    expectClose(found, expected, tolerance);
  });

  // Fay, Brittain & Proschan: without censoring the procedure is the exact binomial one.
  test.each([2, 8, 17])('without censoring it is the exact binomial interval: day %i', (day) => {
    const lives = livesOf(vector<Columns, unknown>('km-placebo').input);
    const left = atRiskAfter(lives, day);
    expectClose(betaProductLimits(lives, day), exactLimits({ events: left, n: 21 }), 1e-6);
  });

  test('none failed', () => {
    const { input, expected, tolerance } = vector<
      readonly { atRisk: number }[],
      readonly { survival: number; low: number; high: number }[]
    >('no-failures');
    const found = input.map(({ atRisk }) => ({ survival: 1, ...noneFailedLimits(atRisk) }));
    expectClose(found, expected, tolerance);
  });

  test('rule of three', () => {
    const { input, expected, tolerance } = vector<
      readonly { n: number }[],
      readonly { n: number; oneSided95: number; ruleOfThree: number; twoSided95: number }[]
    >('rule-of-three');
    const found = input.map(({ n }) => {
      const { oneSided, ruleOfThree, twoSided } = noneFailed(n);
      return { n, oneSided95: oneSided, ruleOfThree, twoSided95: twoSided };
    });
    expectClose(found, expected, tolerance);
  });
});

interface Causes {
  readonly times: readonly number[];
  readonly cause: readonly number[];
}

const livesByCause = ({ times, cause }: Causes) => livesOf({ times, events: cause });

describe('competing events', () => {
  test('cumulative incidence with its error, below one minus Kaplan-Meier', () => {
    const { input, expected, tolerance } = vector<Causes, readonly Record<string, number>[]>(
      'competing',
    );
    const lives = livesByCause(input);
    const found = cumulativeIncidence(lives).map((step) => ({
      t: step.day,
      atRisk: step.atRisk,
      eventFree: step.eventFree,
      debonded: step.failed,
      otherFirst: step.competingFirst,
      standardErrorDebonded: step.errorFailed,
    }));
    expectClose(found, expected, tolerance);
    expectClose(1 - survivalAt(kaplanMeier(lives), 20), 0.5417, 1e-4);
  });

  test('bone marrow transplants', () => {
    const { input, expected, tolerance } = vector<
      Causes,
      readonly { t: number; relapse: number; deathFirst: number }[]
    >('competing-bmt');
    const steps = cumulativeIncidence(livesByCause(input));
    const found = expected.map(({ t }) => {
      const step = present(incidenceAt(steps, t), 'a step');
      return { t, relapse: step.failed, deathFirst: step.competingFirst };
    });
    expectClose(found, expected, tolerance);
  });
});

interface Gaps {
  readonly lower: readonly number[];
  readonly upper: readonly (number | null)[];
}

describe('failures between visits', () => {
  test.each([
    vector<Gaps, readonly Fall[]>('turnbull-1'),
    vector<Gaps, readonly Fall[]>('turnbull-2'),
  ])('breast deterioration, arm %#', ({ input, expected, tolerance }) => {
    const found = turnbull(
      input.lower.map((after, at) => ({ after, by: input.upper[at] ?? null })),
    );
    expect(found.isConverged).toBe(true);
    expectClose(found.falls, expected, tolerance);
  });
});

test('completeness of follow-up', () => {
  const { input, expected, tolerance } = vector<
    { observedMonths: readonly number[]; potentialMonths: readonly number[] },
    { C: number }
  >('completeness');
  const lives = input.observedMonths.map((time, at) => ({
    entry: 0,
    time,
    event: 'none' as const,
    patient: String(at),
    possible: present(input.potentialMonths[at], 'a possible time'),
  }));
  expectClose({ C: completeness(lives) }, expected, tolerance);
});
