/**
 * The curve with its limits, and the table at 1, 3, 5 and 10 years. One unit a patient: Greenwood on
 * the log-log scale. Several units, the normal case: the robust error too, and the wider of both. With
 * few failures (below 20), few lives (below 100) or in the tail the beta product is added, and what
 * is shown reaches as far as the widest of them on either side. The numbers 20, 100 and 10 are choices.
 */
import type { Timed } from '../life-types.ts';
import { limitsOfSteps, noneFailedLimits } from './beta-product.ts';
import { kaplanMeier, lastDay, type Step, stepAt, THIN_BELOW } from './kaplan-meier.ts';
import { logLogLimits } from './log-log-limits.ts';
import { countPatients, FEW_PATIENTS, patientsWithFailure } from './patients.ts';
import { atRiskAfter } from './risk-table.ts';
import { robustErrors } from './robust-error.ts';
import { DAYS_A_YEAR } from './sizes.ts';
import type { Limits } from './tails.ts';

/** How limits were found; more than one where the widest was taken. */
export type LimitsBy = 'greenwood' | 'robust' | 'beta-product' | 'none-failed';

/** The curve on one day. */
export interface CurvePoint extends Limits {
  readonly day: number;
  readonly survival: number;
  /** Lives under observation after this day. */
  readonly atRiskAfter: number;
  /** Fewer than 10 lives remain: drawn grey. */
  readonly isThin: boolean;
  readonly by: readonly LimitsBy[];
}

/** A step of the curve with its limits. */
export interface CurveStep extends CurvePoint, Step {
  /** Standard error that counts the patient as one; null where survival is 0. */
  readonly robust: number | null;
}

export interface Curve {
  readonly lives: number;
  readonly patients: number;
  readonly failures: number;
  readonly patientsWithFailure: number;
  /** Fewer than 10 patients with a failure: said beside the curve, with counts of patients. */
  readonly hasFewPatients: boolean;
  readonly lastDay: number;
  /** From day 0 to the first step S is 1: that stretch is not among the steps. */
  readonly steps: readonly CurveStep[];
}

const FEW_FAILURES = 20;
const FEW_LIVES = 100;

interface Prepared {
  readonly lives: readonly Timed[];
  readonly hasSeveral: boolean;
  readonly steps: readonly (Step & { readonly robust: number | null })[];
}

function prepare(lives: readonly Timed[]): Prepared {
  const robust = robustErrors(lives);
  const steps = kaplanMeier(lives).map((step, at) => ({ ...step, robust: robust[at] ?? null }));
  return { lives, hasSeveral: countPatients(lives) < lives.length, steps };
}

/** The whole curve. */
export function survivalCurve(lives: readonly Timed[]): Curve {
  const prepared = prepare(lives);
  const withFailure = patientsWithFailure(lives);
  return {
    lives: lives.length,
    patients: countPatients(lives),
    failures: lives.filter((life) => life.event === 'event').length,
    patientsWithFailure: withFailure,
    hasFewPatients: withFailure < FEW_PATIENTS,
    lastDay: lastDay(lives),
    steps: prepared.steps.map((step) => ({ ...step, ...pointAt(prepared, step.day) })),
  };
}

function pointAt(prepared: Prepared, day: number): CurvePoint {
  const after = atRiskAfter(prepared.lives, day);
  const step = stepAt(prepared.steps, day) as Prepared['steps'][number] | null;
  const base = { day, atRiskAfter: after, isThin: after < THIN_BELOW };
  if (step === null) {
    // Units of one patient may be lost together, so each patient counts once.
    const left = prepared.lives.filter((life) => life.entry <= day && life.time > day);
    return { ...base, survival: 1, ...noneFailedLimits(countPatients(left)), by: ['none-failed'] };
  }
  const found = candidates(prepared, step, base);
  return {
    ...base,
    survival: step.survival,
    low: Math.min(...found.map(([, limits]) => limits.low)),
    high: Math.max(...found.map(([, limits]) => limits.high)),
    by: found.map(([by]) => by),
  };
}

function candidates(
  { lives, hasSeveral, steps }: Prepared,
  step: Prepared['steps'][number],
  at: { readonly atRiskAfter: number; readonly isThin: boolean },
): readonly (readonly [LimitsBy, Limits])[] {
  const found: (readonly [LimitsBy, Limits])[] = [];
  const add = (by: LimitsBy, error: number | null): void => {
    const limits = error === null ? null : logLogLimits({ survival: step.survival, error });
    if (limits !== null) found.push([by, limits]);
  };
  const failures = steps.reduce((sum, each) => sum + each.failures, 0);
  const isSmall = failures < FEW_FAILURES || lives.length < FEW_LIVES || at.isThin;
  if (!isSmall) add('greenwood', step.greenwood);
  if (hasSeveral) add('robust', step.robust);
  if (isSmall || found.length === 0) {
    const until = steps.filter(({ day }) => day <= step.day);
    found.push(['beta-product', limitsOfSteps(until, at.atRiskAfter)]);
  }
  return found;
}

/** The curve on one day; null after the last day on which any life was under observation. */
export function curveAt(lives: readonly Timed[], day: number): CurvePoint | null {
  return day > lastDay(lives) ? null : pointAt(prepare(lives), day);
}

/** One row of the table: null where nobody has been followed that long. */
export interface YearRow {
  readonly years: number;
  readonly point: CurvePoint | null;
}

export const TABLE_YEARS = [1, 3, 5, 10] as const;

/** The curve at 1, 3, 5 and 10 years. */
export function survivalTable(lives: readonly Timed[]): readonly YearRow[] {
  const prepared = prepare(lives);
  const last = lastDay(lives);
  return TABLE_YEARS.map((years) => {
    const day = years * DAYS_A_YEAR;
    return { years, point: day > last ? null : pointAt(prepared, day) };
  });
}
