/**
 * Median life, only where the curve passes one half (Brookmeyer & Crowley, Biometrics 1982;38:29; from
 * memory; survival 3.5-3 agrees). Null means "not reached", never a number.
 */
import type { Timed } from '../life-types.ts';
import { kaplanMeier, type Step } from './kaplan-meier.ts';
import { logLogLimits } from './log-log-limits.ts';

/** Days; null where the curve, or its limit, does not come down to one half. */
export interface Median {
  readonly median: number | null;
  readonly low: number | null;
  readonly high: number | null;
}

const CLOSE = 1e-9;

/** First day on which the share is one half or less; halfway along a stretch that lies at one half. */
function halfDay(steps: readonly Step[], shareOf: (step: Step) => number | null): number | null {
  const at = steps.findIndex((step) => (shareOf(step) ?? 1) <= 0.5 + CLOSE);
  const step = steps[at];
  if (step === undefined) return null;
  const next = steps[at + 1];
  const isLevel = Math.abs((shareOf(step) ?? 0) - 0.5) <= CLOSE;
  return isLevel && next !== undefined ? (step.day + next.day) / 2 : step.day;
}

/** Limits are log-log with Greenwood's error, or with `errors`, one a step. */
export function medianLife(lives: readonly Timed[], errors?: readonly (number | null)[]): Median {
  const steps = kaplanMeier(lives);
  const limit = (side: 'low' | 'high') => (step: Step) => {
    const error = errors === undefined ? step.greenwood : errors[steps.indexOf(step)];
    if (step.survival === 0) return side === 'low' ? 0 : null;
    return logLogLimits({ survival: step.survival, error: error ?? 0 })?.[side] ?? null;
  };
  return {
    median: halfDay(steps, (step) => step.survival),
    low: halfDay(steps, limit('low')),
    high: halfDay(steps, limit('high')),
  };
}
