/** Who is still under observation: below every curve, and where it is drawn grey. Pure. */
import { lastDay, type Step, THIN_BELOW } from '../figures/kaplan-meier.ts';
import { atRiskAfter } from '../figures/risk-table.ts';
import { DAYS_A_YEAR } from '../figures/sizes.ts';
import type { Timed } from '../life-types.ts';
import type { YearAtRisk } from './outcomes-types.ts';

export const yearsAtRisk = (lives: readonly Timed[]): readonly YearAtRisk[] =>
  Array.from({ length: Math.floor(lastDay(lives) / DAYS_A_YEAR) + 1 }, (_, years) => ({
    years,
    lives: atRiskAfter(lives, years * DAYS_A_YEAR),
  }));

/**
 * The first step that was made with fewer than 10 lives under observation although 10 or more came later, such as
 * those of before the app: it moves the curve as if it had been made with all of them. Null where there is none.
 */
export function fewAt(
  steps: readonly Step[],
  lives: readonly Timed[],
): { readonly day: number; readonly atRisk: number } | null {
  const thin = steps.find(
    ({ day, atRisk }) =>
      atRisk < THIN_BELOW &&
      lives.some(({ entry }) => entry >= day && atRiskAfter(lives, entry) >= THIN_BELOW),
  );
  return thin === undefined ? null : { day: thin.day, atRisk: thin.atRisk };
}

/** The first day after which fewer than 10 remain for good; null where that is never so before the last day. */
export function thinFrom(lives: readonly Timed[]): number | null {
  const last = lastDay(lives);
  const ends = lives.map(({ time }) => time).toSorted((a, b) => b - a);
  // Of the ten that stayed longest the first one that goes leaves nine.
  const day = ends[THIN_BELOW - 1] ?? 0;
  return day < last ? day : null;
}
