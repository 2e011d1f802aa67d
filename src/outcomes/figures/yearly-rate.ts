/**
 * The yearly failure rate by both customs of the dental literature, to be labelled. They differ, so
 * neither may stand alone.
 */
import { assert } from '../../base/assert.ts';
import { poissonLimits } from './poisson-limits.ts';
import type { Limits } from './tails.ts';

/** Shares a year, and the division that is often printed in their place. */
export interface CompoundRate {
  /** y with (1 - y)^z = 1 - x. */
  readonly compound: number;
  readonly simpleDivision: number;
}

/**
 * From the share failed by the curve, 0 to 1, at `years` (J Dent Res 2014;93:943; formula from memory).
 */
export function compoundRate(o: {
  readonly failedShare: number;
  readonly years: number;
}): CompoundRate {
  assert(o.years > 0, 'a rate is over a positive time');
  return {
    compound: 1 - (1 - o.failedShare) ** (1 / o.years),
    simpleDivision: o.failedShare / o.years,
  };
}

/** Failures per 100 unit-years with exact limits. */
export interface RatePer100 extends Limits {
  readonly per100: number;
}

/** Failures over unit-years with exact Poisson limits, the custom of prosthodontic reviews (from memory). */
export function ratePer100(o: {
  readonly failures: number;
  readonly unitYears: number;
}): RatePer100 {
  assert(o.unitYears > 0, 'a rate is over a positive time');
  const { low, high } = poissonLimits(o.failures);
  const per = 100 / o.unitYears;
  return { per100: o.failures * per, low: low * per, high: high * per };
}

/** Share in place after `years` at a constant rate per 100 unit-years: exp(-rate x years). */
export const survivalOfRate = (per100: number, years: number): number =>
  Math.exp((-per100 / 100) * years);
