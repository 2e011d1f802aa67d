/**
 * Limits of a survival share on the scale of log(-log S), so that they stay between 0 and 1
 * (Kalbfleisch & Prentice, "The Statistical Analysis of Failure Time Data", 1980; from memory;
 * survival 3.5-3 agrees).
 */
import { type Limits, Z95 } from './tails.ts';

/** Null where S is 0 or 1: there is no such interval. `error` is the standard error of `survival`. */
export function logLogLimits(o: {
  readonly survival: number;
  readonly error: number;
  readonly z?: number;
}): Limits | null {
  if (o.survival <= 0 || o.survival >= 1) return null;
  const log = Math.log(o.survival);
  const half = ((o.z ?? Z95) * o.error) / (o.survival * Math.abs(log));
  return { low: o.survival ** Math.exp(half), high: o.survival ** Math.exp(-half) };
}
