import { describe, expect, test } from 'vitest';
import { sigmaOf } from '../../src/plan/activity.ts';
import type { RiskOptions } from '../../src/plan/drawn-lengths.ts';
import { makePlan } from '../../src/plan/make-plan.ts';
import { quantile } from '../../src/plan/risk.ts';
import type { Protocol, Step } from '../../src/protocol/types.ts';
import {
  caseOf,
  confirm,
  dwell,
  protocolOf,
  SMALL_WHOLE,
  step,
  window,
} from '../engine/fixture.ts';
import { GOLDEN_RISK, goldenRisk } from './golden-risk.ts';

interface Chain {
  readonly steps: number;
  readonly medianMs: number;
  readonly p90Ms: number;
  readonly by?: Step['by'];
}

/** Steps of one person, one after the other. */
function chain({ steps, medianMs, p90Ms, by = 'dentist' }: Chain): Protocol {
  const practice = { basis: { kind: 'practice' } } as const;
  const pace = { medianMs: { value: medianMs, ...practice }, p90Ms: { value: p90Ms, ...practice } };
  return protocolOf(
    Array.from({ length: steps }, (_, i) =>
      step(`s${i}`, 'case', confirm, { by, pace, ...(i === 0 ? {} : { after: [`s${i - 1}`] }) }),
    ),
  );
}

function chairOf(protocol: Protocol, risk: Partial<RiskOptions>) {
  const plan = makePlan({ spec: caseOf(['11']), protocol, tables: null, risk });
  const { meanMs, p50Ms, p90Ms } = plan.risk.chair;
  return { mean: meanMs / 1000, p50: p50Ms / 1000, p90: p90Ms / 1000, plan };
}

const Z90 = 1.2815515655446004;

describe('agreement with closed forms', () => {
  test('one step: the quantiles of its log-normal', () => {
    const one = chain({ steps: 1, medianMs: 100_000, p90Ms: 150_000 });
    const chair = chairOf(one, { samples: 40_000, sharedShare: 0.57, seed: 3 });
    const sigma = Math.log(1.5) / Z90;
    expect(chair.p50).toBeCloseTo(100, -0.2);
    expect(Math.abs(chair.p50 / 100 - 1)).toBeLessThan(0.01);
    expect(Math.abs(chair.p90 / 150 - 1)).toBeLessThan(0.01);
    // Mean of a log-normal: median * e^(sigma^2 / 2).
    expect(Math.abs(chair.mean / (100 * Math.exp(sigma ** 2 / 2)) - 1)).toBeLessThan(0.01);
  });

  // Six independent log-normal steps, median 10, sigma 0.32: mean 63.15, median 62.6, 90th
  // percentile 74.2 (Fenton, IRE Trans. Commun. Syst. 8:57-67, 1960, and a simulation of 200 000);
  // with one person behind all six it is six times the single one, 90.4.
  const six = chain({
    steps: 6,
    medianMs: 10_000,
    p90Ms: Math.round(10_000 * Math.exp(0.32 * Z90)),
  });

  test('six independent steps: the 90th percentile of the sum is 74.2, not six times 15.07', () => {
    const chair = chairOf(six, { samples: 40_000, sharedShare: 0, seed: 5 });
    expect(Math.abs(chair.mean - 63.15)).toBeLessThan(0.2);
    expect(Math.abs(chair.p50 - 62.6)).toBeLessThan(0.25);
    expect(Math.abs(chair.p90 - 74.2)).toBeLessThan(0.4);
  });

  test('six steps of one slow day: the 90th percentile is 90.4', () => {
    const chair = chairOf(six, { samples: 40_000, sharedShare: 1, seed: 5 });
    expect(Math.abs(chair.p90 - 90.4)).toBeLessThan(0.8);
    expect(Math.abs(chair.p50 - 60)).toBeLessThan(0.5);
  });

  test('the more of the spread is shared, the worse the slow day', () => {
    const shares = [0, 0.3, 0.57, 1].map(
      (sharedShare) => chairOf(six, { samples: 10_000, sharedShare, seed: 5 }).p90,
    );
    expect(shares).toEqual(shares.toSorted((a, b) => a - b));
  });

  // Central limit theorem: sums of many independent steps of small spread are normal.
  test('sixty steps of small spread: a normal sum', () => {
    const sigma = 0.1;
    const many = chain({
      steps: 60,
      medianMs: 10_000,
      p90Ms: Math.round(10_000 * Math.exp(sigma * Z90)),
    });
    const chair = chairOf(many, { samples: 20_000, sharedShare: 0, seed: 11 });
    const mean = 60 * 10 * Math.exp(sigma ** 2 / 2);
    const sd = Math.sqrt(60 * 100 * Math.exp(sigma ** 2) * (Math.exp(sigma ** 2) - 1));
    expect(Math.abs(chair.mean - mean)).toBeLessThan(0.3);
    expect(Math.abs(chair.p90 - (mean + Z90 * sd))).toBeLessThan(0.4);
  });

  // The hands may be done before the water has run long enough, but the rinse is no shorter for it:
  // its length is max(15 s, X) with X log-normal and 15 s its median. Half of the days take 15 s; the
  // mean is 15 / 2 + 15 e^(sigma^2 / 2) Phi(sigma), by integration over the upper half.
  test('a rinse that holds the hands is as long as the longer of hands and water', () => {
    const practice = { basis: { kind: 'practice' } } as const;
    const medianMs = { value: 15_000, ...practice };
    const pace = { medianMs, p90Ms: { value: 22_500, ...practice } };
    const rinse = protocolOf([step('rinse', 'case', dwell(10, 15), { by: 'dentist', pace })]);
    const chair = chairOf(rinse, { samples: 40_000, seed: 3 });
    const sigma = Math.log(1.5) / Z90;
    // Phi(0.3164) by the tables of the normal distribution.
    const phi = 0.6242;
    expect(Math.abs(chair.mean - 15 * (0.5 + Math.exp(sigma ** 2 / 2) * phi))).toBeLessThan(0.05);
    expect(Math.abs(chair.p50 - 15)).toBeLessThan(0.05);
    expect(Math.abs(chair.p90 - 22.5)).toBeLessThan(0.2);
  });

  test('a window around one step is broken as often as its log-normal says', () => {
    const practice = { basis: { kind: 'practice' } } as const;
    const pace = {
      medianMs: { value: 60_000, ...practice },
      p90Ms: { value: 90_000, ...practice },
    };
    const protocol = protocolOf(
      [
        step('mix', 'case', confirm, { by: 'dentist', paceSeconds: 10 }),
        step('seat', 'case', confirm, { by: 'dentist', after: ['mix'], pace }),
      ],
      { windows: [window('open', 'mix/end -> seat/end', { maxS: 90 })] },
    );
    const { plan } = chairOf(protocol, { samples: 20_000, seed: 2 });
    // 90 s is the 90th percentile by definition; standard error 0.002.
    expect(Math.abs((plan.risk.pBrokenByWindow['open'] ?? 0) - 0.1)).toBeLessThan(0.01);
    const [band] = plan.risk.bands;
    expect(Math.abs((band?.slackP50Ms ?? 0) / 1000 - 30)).toBeLessThan(1);
    expect(Math.abs((band?.slackP10Ms ?? 0) / 1000)).toBeLessThan(1.5);
  });
});

describe('a dwell without any room', () => {
  // By hand: the end is pressed 20 s after the begin, at the limit and never beyond it, whatever the
  // step before took; only the rounding of the sums could say otherwise.
  test('is kept in every draw', () => {
    const protocol = protocolOf([
      step('before', 'case', confirm, { paceSeconds: 61 }),
      step('etch', 'tooth', dwell(20, 20, 20), { after: ['before'], hands: [4, 4] }),
    ]);
    const { risk } = makePlan({ spec: caseOf(['11']), protocol, tables: null });
    expect(risk.pBrokenByWindow).toEqual({ etch: 0 });
    expect(risk.bands.map((b) => b.pBroken)).toEqual([0]);
    expect(risk.chair.p90Ms).toBeGreaterThan(risk.chair.p50Ms);
  });
});

describe('repeatability', () => {
  const risk = (seed: number) =>
    makePlan({ spec: caseOf(['11', '21']), protocol: SMALL_WHOLE, tables: null, risk: { seed } })
      .risk;

  test('the same seed gives the same risk, another seed another', () => {
    expect(risk(4)).toEqual(risk(4));
    expect(risk(5).chair.meanMs).not.toBe(risk(4).chair.meanMs);
  });

  test('the numbers are those that every device gives', () => {
    expect(goldenRisk()).toEqual(GOLDEN_RISK);
  });
});

describe('single figures', () => {
  test('a 90th percentile at or below the median means no spread', () => {
    expect(sigmaOf({ medianMs: 10, p90Ms: 10 })).toBe(0);
    expect(sigmaOf({ medianMs: 10, p90Ms: 8 })).toBe(0);
    expect(sigmaOf({ medianMs: 0, p90Ms: 8 })).toBe(0);
  });

  // Hyndman & Fan, The American Statistician 50:361-365, 1996: definition 7.
  test('quantiles lie between neighbours in proportion', () => {
    const sorted = Float64Array.from([1, 2, 3, 4]);
    expect(quantile(sorted, 0.5)).toBe(2.5);
    expect(quantile(sorted, 0.9)).toBeCloseTo(3.7, 12);
    expect(quantile(sorted, 1)).toBe(4);
  });
});
