/**
 * Failures between two visits lie somewhere in the gap. Where more than 20 % of them lie in gaps above
 * 6 months, Turnbull's curve is asked for beside the main one (a choice); to date them at the visit is
 * biased (Stat Med 2015;34:3181).
 */
import { DAYS_A_YEAR } from './sizes.ts';
import type { Between } from './turnbull.ts';

/** Days of a gap above which it is wide. */
export const WIDE_GAP = DAYS_A_YEAR / 2;

/** Failures, those in a wide gap, and whether the curve with dated failures wants a check. */
export interface WideGaps {
  readonly failures: number;
  readonly wide: number;
  readonly wantsCheck: boolean;
}

export function wideGaps(lives: readonly Between[]): WideGaps {
  const gaps = lives.flatMap(({ after, by }) => (by === null ? [] : [by - after]));
  const wide = gaps.filter((days) => days > WIDE_GAP).length;
  return { failures: gaps.length, wide, wantsCheck: wide > gaps.length * 0.2 };
}
