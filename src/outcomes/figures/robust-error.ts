/**
 * Error of the survival curve when units of one patient depend on one another: the influence of each
 * unit on log S is summed within the patient, squared and summed over patients (Biometrics
 * 1991;47:461; from memory; survival 3.5-3 agrees). With one unit a patient and no late entry it is
 * Greenwood's error exactly.
 */
import type { Timed } from '../life-types.ts';
import { kaplanMeier, type Step } from './kaplan-meier.ts';
import { byPatient } from './patients.ts';
import { isAtRisk } from './risk-table.ts';

/** Robust standard error of S after each step; null where S is 0. In the order of `kaplanMeier`. */
export function robustErrors(lives: readonly Timed[]): readonly (number | null)[] {
  const patients = [...byPatient(lives).values()];
  const sums = new Float64Array(patients.length);
  return kaplanMeier(lives).map((step) => {
    patients.forEach((units, index) => {
      sums[index] = (sums[index] ?? 0) + influence(units, step);
    });
    if (step.survival === 0) return null;
    return step.survival * Math.sqrt(sums.reduce((sum, each) => sum + each * each, 0));
  });
}

/** How much the units of one patient move log S in one step. */
function influence(units: readonly Timed[], { day, atRisk, failures }: Step): number {
  let sum = 0;
  for (const unit of units) {
    if (!isAtRisk(unit, day)) continue;
    const isFailed = unit.time === day && unit.event === 'event';
    sum += (failures / atRisk - (isFailed ? 1 : 0)) / (atRisk - failures);
  }
  return sum;
}
