/**
 * How long, and how completely, lives were followed. The median changes the places of failures and
 * ends of observation (Control Clin Trials 1996;17:343; from memory). Completeness is observed over
 * possible time (Lancet 2002;359:1309); for a life that ended, what was possible is what was observed.
 */
import type { Timed } from '../life-types.ts';
import { medianLife } from './median-life.ts';

/** A life with the most that it could have been followed, in days since its bonding. */
export interface Followed extends Timed {
  readonly possible: number;
}

/** Median follow-up in days by the reversed curve; null where not reached. */
export const medianFollowUp = (lives: readonly Timed[]): number | null =>
  medianLife(lives.map((life) => ({ ...life, event: life.event === 'none' ? 'event' : 'none' })))
    .median;

/** Days observed over days possible, 0 to 1; null without lives. */
export function completeness(lives: readonly Followed[]): number | null {
  let observed = 0;
  let possible = 0;
  for (const life of lives) {
    const days = Math.max(0, life.time - life.entry);
    observed += days;
    possible += life.event === 'none' ? Math.max(days, life.possible - life.entry) : days;
  }
  return possible === 0 ? null : observed / possible;
}

/** What a completeness asks for; 80 and 60 % are choices. */
export function completenessSays(share: number): 'complete' | 'banner' | 'no-comparison' {
  if (share < 0.6) return 'no-comparison';
  return share < 0.8 ? 'banner' : 'complete';
}

/**
 * Both extremes, always shown: every life that is no longer seen failed on the day after it was last
 * seen, or none of them did and all are still in place. Unseen is what has not been looked at for more
 * than `graceDays`. No source: bounds by arithmetic.
 */
export function extremes(
  lives: readonly Followed[],
  graceDays: number,
): {
  readonly unseen: number;
  readonly allFailed: readonly Timed[];
  readonly noneFailed: readonly Timed[];
} {
  const isUnseen = (life: Followed): boolean =>
    life.event === 'none' && life.possible - life.time > graceDays;
  return {
    unseen: lives.filter(isUnseen).length,
    allFailed: lives.map((life) =>
      isUnseen(life) ? { ...life, time: life.time + 1, event: 'event' } : life,
    ),
    noneFailed: lives.map((life) => (isUnseen(life) ? { ...life, time: life.possible } : life)),
  };
}
