/**
 * Lots to look at: the share lost in the first year, beta-binomial ("Bayesian Data Analysis", section
 * 5.1, 4 of 14 rats; from memory). The prior is worth 50 units at the clinic's usual share (a choice).
 */
import { betaAbove, betaQuantile, type Limits } from './tails.ts';

/** Beta(a, b). */
export interface Beta {
  readonly a: number;
  readonly b: number;
}

/** What is known of a share. */
export interface Posterior extends Beta, Limits {
  readonly mean: number;
  readonly sd: number;
}

/** `level` is that of the central interval, 0.95 unless told. */
export function posterior(o: {
  readonly prior: Beta;
  readonly failures: number;
  readonly units: number;
  readonly level?: number;
}): Posterior {
  const a = o.prior.a + o.failures;
  const b = o.prior.b + o.units - o.failures;
  const tail = (1 - (o.level ?? 0.95)) / 2;
  const mean = a / (a + b);
  return {
    a,
    b,
    mean,
    sd: Math.sqrt((mean * (1 - mean)) / (a + b + 1)),
    low: betaQuantile(tail, a, b),
    high: betaQuantile(1 - tail, a, b),
  };
}

/** The beta distribution with this mean and standard deviation, by moments. */
export function priorByMoments(mean: number, sd: number): Beta {
  const size = (mean * (1 - mean)) / (sd * sd) - 1;
  return { a: mean * size, b: (1 - mean) * size };
}

/** Units that the prior is worth. */
export const PRIOR_UNITS = 50;

/** Beta(1, 49) at a usual share of 2 % in the first year. */
export const lotPrior = (usualShare: number): Beta => ({
  a: PRIOR_UNITS * usualShare,
  b: PRIOR_UNITS * (1 - usualShare),
});

/** One lot in its first year. `low` and `high` hold 90 %. */
export interface LotSays extends Posterior {
  /** P(share above twice the usual one). */
  readonly pAboveTwice: number;
  /** "Look": P at least one half, and at least 3 failures in at least 2 patients (choices). */
  readonly isToLookAt: boolean;
}

export function lotSays(o: {
  readonly failures: number;
  readonly units: number;
  readonly patientsWithFailure: number;
  /** The clinic's share lost in the first year, 0 to 1. */
  readonly usualShare: number;
}): LotSays {
  const found = posterior({ ...o, prior: lotPrior(o.usualShare), level: 0.9 });
  const pAboveTwice = betaAbove(2 * o.usualShare, found.a, found.b);
  const isToLookAt = pAboveTwice >= 0.5 && o.failures >= 3 && o.patientsWithFailure >= 2;
  return { ...found, pAboveTwice, isToLookAt };
}
