/** Sizes that every figure shares. */

/** Days of a mean Gregorian year are 365.2425; figures of years use the customary 365.25. */
export const DAYS_A_YEAR = 365.25;

/** What may be shown for how many lives. The limits are choices, without a source. */
export type Showing = 'counts' | 'curve' | 'all';

/** Below 20 lives counts and exact limits; below 100 a curve and no comparison. */
export function showing(lives: number): Showing {
  if (lives < 20) return 'counts';
  return lives < 100 ? 'curve' : 'all';
}

/** Unit-years under observation. */
export const unitYears = (
  lives: readonly { readonly entry: number; readonly time: number }[],
): number =>
  lives.reduce((sum, life) => sum + Math.max(0, life.time - life.entry), 0) / DAYS_A_YEAR;
