/**
 * The patient is the cluster: units of one patient are not independent. For smokers' implants the
 * error was 4.0 % as if independent, 5.6 % with the dependence (J Dent Res 2001;80:2016).
 */
import type { Timed } from '../life-types.ts';

/** Lives by patient, in the order of first appearance. */
export function byPatient<T extends { readonly patient: string }>(
  lives: readonly T[],
): ReadonlyMap<string, readonly T[]> {
  const groups = new Map<string, T[]>();
  for (const life of lives) {
    const of = groups.get(life.patient);
    if (of === undefined) groups.set(life.patient, [life]);
    else of.push(life);
  }
  return groups;
}

export const countPatients = (lives: readonly Timed[]): number =>
  new Set(lives.map((life) => life.patient)).size;

export const patientsWithFailure = (lives: readonly Timed[]): number =>
  countPatients(lives.filter((life) => life.event === 'event'));

/** Below this many patients with a failure the robust error is not to be trusted alone (a choice). */
export const FEW_PATIENTS = 10;

/**
 * Each patient as one life, to the end of whichever unit ended first, by whatever: only up to there all are known,
 * for patients with a failure as for others. It is a failure where a unit failed on that day. Days count from each
 * unit's own bonding. What is asked: how many patients have had none fail. No source: a choice.
 */
export function patientsAsLives(lives: readonly Timed[]): readonly Timed[] {
  return [...byPatient(lives)].map(([patient, units]) => {
    const time = Math.min(...units.map((unit) => unit.time));
    const isFailed = units.some((unit) => unit.event === 'event' && unit.time === time);
    return {
      patient,
      entry: Math.min(...units.map((unit) => unit.entry)),
      time,
      event: isFailed ? 'event' : 'none',
    };
  });
}
