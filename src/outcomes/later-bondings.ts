/**
 * Where a later case of the same patient bonded something to the same tooth: what was bonded before is no
 * longer there from that day on. Two of one day do not end one another. Pure.
 */
import type { BondedUnit, FollowUp } from './follow-up-types.ts';
import { patientKey } from './patient-key.ts';

/** The case and the day of the next bonding to a tooth of a unit; null where there was none. */
export interface LaterBonding {
  readonly caseId: string;
  readonly bondedOn: string;
}

export type LaterBondingOf = (caseId: string, unit: string) => LaterBonding | null;

/** The day from which another case stands in the place of a unit of one case; null where none does. */
export type TakenOn = (unit: string) => string | null;

export const takenOnIn =
  (laterOf: LaterBondingOf, caseId: string): TakenOn =>
  (unit) =>
    laterOf(caseId, unit)?.bondedOn ?? null;

interface Bonded extends LaterBonding {
  readonly units: readonly BondedUnit[];
}

/** Looks every unit up among all cases of its patient. */
export function laterBondings(
  followUps: readonly Pick<FollowUp, 'caseId' | 'bonded'>[],
): LaterBondingOf {
  const ofPatient = new Map<string, Bonded[]>();
  const keyOf = new Map<string, string>();
  for (const { caseId, bonded } of followUps) {
    if (bonded === null) continue;
    const key = patientKey(bonded.patient);
    const { bondedOn, units } = bonded;
    const all = ofPatient.get(key) ?? [];
    all.push({ caseId, bondedOn, units });
    ofPatient.set(key, all);
    keyOf.set(caseId, key);
  }
  for (const all of ofPatient.values()) {
    all.sort((a, b) => (`${a.bondedOn} ${a.caseId}` < `${b.bondedOn} ${b.caseId}` ? -1 : 1));
  }
  return (caseId, unit) => {
    const all = ofPatient.get(keyOf.get(caseId) ?? '') ?? [];
    const own = all.find((each) => each.caseId === caseId);
    const teeth = new Set(own?.units.find((each) => each.unit === unit)?.teeth);
    const next = all.find(
      ({ bondedOn, units }) =>
        own !== undefined &&
        bondedOn > own.bondedOn &&
        units.some((each) => each.teeth.some((tooth) => teeth.has(tooth))),
    );
    return next === undefined ? null : { caseId: next.caseId, bondedOn: next.bondedOn };
  };
}

/** One writing for every patient of whom there are several, whatever the order of the cases. */
export function writings(
  followUps: readonly Pick<FollowUp, 'bonded'>[],
): (patient: string) => string {
  const first = new Map<string, string>();
  for (const { bonded } of followUps) {
    if (bonded === null) continue;
    const key = patientKey(bonded.patient);
    const was = first.get(key);
    if (was === undefined || bonded.patient < was) first.set(key, bonded.patient);
  }
  return (patient) => first.get(patientKey(patient)) ?? patient;
}
