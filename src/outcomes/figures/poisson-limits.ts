/** Exact limits of a Poisson count (Biometrika 1936;28:437; from memory). */
import { assert } from '../../base/assert.ts';
import { gammaQuantile, type Limits } from './tails.ts';

/** Two-sided 95 % limits of the expected number where `events` were counted. */
export function poissonLimits(events: number): Limits {
  assert(Number.isInteger(events) && events >= 0, 'a count is a whole number');
  return {
    low: events === 0 ? 0 : gammaQuantile(0.025, events),
    high: gammaQuantile(0.975, events + 1),
  };
}
