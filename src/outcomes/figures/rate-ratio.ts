/**
 * Ratio of two rates with exact limits: given the total, the failures of A are binomial
 * ("Modern Epidemiology", from memory; poisson.test of R 4.2.2 agrees). As if units were independent.
 */
import { exactLimits } from './binomial-limits.ts';
import { type Limits, logChoose } from './tails.ts';

/** Failures and unit-years of two groups. */
export interface TwoRates {
  readonly eventsA: number;
  readonly yearsA: number;
  readonly eventsB: number;
  readonly yearsB: number;
}

/** A over B; `high` is infinite where B had none. p is two-sided. */
export interface RateRatio extends Limits {
  readonly ratio: number;
  readonly p: number;
}

/** Null where neither group had a failure. */
export function rateRatio({ eventsA, yearsA, eventsB, yearsB }: TwoRates): RateRatio | null {
  const n = eventsA + eventsB;
  if (n === 0) return null;
  const years = yearsB / yearsA;
  const ofShare = (share: number): number => (share / (1 - share)) * years;
  const { low, high } = exactLimits({ events: eventsA, n });
  return {
    ratio: (eventsA / eventsB) * years,
    low: ofShare(low),
    high: ofShare(high),
    p: binomialP(eventsA, n, yearsA / (yearsA + yearsB)),
  };
}

/** Two-sided: all counts as probable as the one seen, or less. */
function binomialP(events: number, n: number, share: number): number {
  const probability = (count: number): number =>
    Math.exp(logChoose(n, count) + count * Math.log(share) + (n - count) * Math.log(1 - share));
  const seen = probability(events) * (1 + 1e-7);
  let sum = 0;
  for (let count = 0; count <= n; count += 1) {
    const of = probability(count);
    if (of <= seen) sum += of;
  }
  return Math.min(1, sum);
}
