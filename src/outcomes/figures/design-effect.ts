/**
 * How many times more units it takes because units of one patient are alike: 1 + (m - 1) rho
 * ("Survey Sampling", 1965; from memory); m is the sum of squares over the sum for unequal sizes.
 */

/** Units that stand for one another: the mean over sizes, weighted by size. */
export const meanOverSizes = (unitsPerPatient: readonly number[]): number =>
  unitsPerPatient.reduce((sum, m) => sum + m * m, 0) /
  unitsPerPatient.reduce((sum, m) => sum + m, 0);

/** `likeness` is the correlation within a patient, 0 to 1. */
export const designEffect = (unitsPerPatient: readonly number[], likeness: number): number =>
  1 + (meanOverSizes(unitsPerPatient) - 1) * likeness;

/**
 * With 4 units a patient, as measured in simulated clinics: moderate and strong dependence. Computed, no
 * source.
 */
export const LIVES_TIMES = { moderate: 1.9, strong: 3.3 } as const;
