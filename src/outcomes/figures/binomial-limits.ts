/**
 * Limits of a share. Exact: Clopper & Pearson (Biometrika 1934;26:404; from memory). Wilson's score
 * interval as compared in Stat Med 1998;17:857.
 */
import { assert } from '../../base/assert.ts';
import { betaQuantile, type Limits, Z95 } from './tails.ts';

/** What was counted: `events` of `n`. */
export interface Counted {
  readonly events: number;
  readonly n: number;
}

const check = ({ events, n }: Counted): void =>
  assert(n > 0 && events >= 0 && events <= n, 'a share counts events among at least one');

/** Exact two-sided 95 % limits. */
export function exactLimits(counted: Counted): Limits {
  check(counted);
  const { events, n } = counted;
  return {
    low: events === 0 ? 0 : betaQuantile(0.025, events, n - events + 1),
    high: events === n ? 1 : betaQuantile(0.975, events + 1, n - events),
  };
}

/** Wilson's two-sided 95 % limits. */
export function wilsonLimits(counted: Counted): Limits {
  check(counted);
  const { events, n } = counted;
  const share = events / n;
  const square = (Z95 * Z95) / n;
  const middle = share + square / 2;
  const half = Z95 * Math.sqrt((share * (1 - share)) / n + square / (4 * n));
  return {
    low: events === 0 ? 0 : Math.max(0, (middle - half) / (1 + square)),
    high: events === n ? 1 : Math.min(1, (middle + half) / (1 + square)),
  };
}
