/**
 * Survival by Kaplan and Meier (J Am Stat Assoc 1958;53:457; from memory) with delayed entry, and its
 * error by Greenwood as if every unit were independent. A competing event ends the observation: where
 * such events are many, the cumulative incidence is the figure to show.
 * Checked against the 6-MP trial (Blood 1963;21:699).
 */
import type { Timed } from '../life-types.ts';
import { riskTable } from './risk-table.ts';

/** One step down of the curve. */
export interface Step {
  readonly day: number;
  /** Lives under observation just before. */
  readonly atRisk: number;
  readonly failures: number;
  /** Share in place after this day, 0 to 1. */
  readonly survival: number;
  /** Standard error of `survival` as if units were independent; null where survival is 0. */
  readonly greenwood: number | null;
}

/** The curve is drawn grey where fewer lives than this remain under observation (a choice). */
export const THIN_BELOW = 10;

/** The steps in order; none where nothing failed. */
export function kaplanMeier(lives: readonly Timed[]): readonly Step[] {
  let survival = 1;
  let sum = 0;
  return riskTable(lives)
    .filter((row) => row.failures > 0)
    .map(({ day, atRisk, failures }) => {
      survival = failures === atRisk ? 0 : survival * (1 - failures / atRisk);
      sum += failures / (atRisk * (atRisk - failures));
      const greenwood = survival === 0 ? null : survival * Math.sqrt(sum);
      return { day, atRisk, failures, survival, greenwood };
    });
}

/** The last step on or before `day`; null before the first. */
export function stepAt(steps: readonly Step[], day: number): Step | null {
  let last: Step | null = null;
  for (const step of steps) {
    if (step.day > day) break;
    last = step;
  }
  return last;
}

/** Share in place after `day`, 0 to 1. */
export const survivalAt = (steps: readonly Step[], day: number): number =>
  stepAt(steps, day)?.survival ?? 1;

/** Last day on which any life was under observation; 0 without lives. The curve ends there. */
export const lastDay = (lives: readonly Timed[]): number =>
  lives.reduce((last, life) => Math.max(last, life.time), 0);
