/**
 * How long the hands take for one press: a part that is the same however many subjects it stands
 * for, and a part for each of them. Times in ms.
 */
import type { Step } from './types.ts';

/** Middle and slow-day length of one press. */
export interface PressPace {
  readonly medianMs: number;
  readonly p90Ms: number;
}

/** The pace of a press of this step that stands for so many subjects; slow days in the same ratio. */
export function paceOf({ pace }: Step, subjects = 1): PressPace {
  const fixedMs = pace.medianMs.value;
  const medianMs = fixedMs + subjects * (pace.perSubjectMs?.value ?? 0);
  if (medianMs === fixedMs) return { medianMs, p90Ms: pace.p90Ms.value };
  return { medianMs, p90Ms: fixedMs > 0 ? (medianMs * pace.p90Ms.value) / fixedMs : medianMs };
}
