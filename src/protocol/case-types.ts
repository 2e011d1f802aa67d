/**
 * The case file: which teeth, by whom, with which light, in which room. It arrives as unknown JSON
 * and becomes these types only through `parse-case.ts`.
 */
import type { Conditioned, Opacity, ToothFacts } from './facts.ts';
import type { Role } from './types.ts';

export type Notation = 'fdi' | 'universal' | 'palmer';

/**
 * Share of curing-band light that passes a piece of the unit's ceramic: read with the clinic's own
 * meter, or taken from a row of a published table. Another thickness is computed from it.
 */
interface Transmittance {
  readonly kind: 'measured' | 'published';
  /** Above 0 to 1. A meter that reads 0 behind ceramic is at its floor. */
  readonly share: number;
  readonly atThicknessMm: number;
  /** How and when it was measured, or the publication. */
  readonly basis: string;
}

export interface Unit {
  readonly id: string;
  /** FDI two-digit tooth numbers; a bridge has several. */
  readonly teeth: readonly string[];
  /** Replaced teeth that the unit carries: nothing is bonded there. */
  readonly pontics?: readonly string[];
  readonly restoration: string;
  readonly material: string;
  readonly thicknessMm?: number;
  readonly opacity?: Opacity;
  /** Absent: not asked yet. */
  readonly conditioned?: Conditioned;
  readonly shade?: string;
  /** Absent: the published shares of its class are planned with. */
  readonly transmittance?: Transmittance;
}

export interface Person {
  readonly id: string;
  /** Initials or a short label; never a patient. */
  readonly label: string;
  readonly role: Role;
  /** Read from files of older versions; a case is numbered as its file says, whoever presses. */
  readonly notation?: Notation;
}

/** Curing light as the clinic measured it. */
export interface Light {
  readonly label: string;
  readonly irradianceMwPerCm2: number;
  readonly tipDiameterMm: number;
  readonly baselineMwPerCm2?: number;
  readonly readOn?: string;
  /** Times that it can be set to, in s; in steps of 5 s where none are named. */
  readonly programmesS?: readonly number[];
}

/** How long this case's people took at a step by their records: planned with instead of the pace. */
export interface RecordedPace {
  readonly step: string;
  readonly medianMs: number;
  readonly p90Ms: number;
  /** How often it was timed. */
  readonly count: number;
}

/** The case that this one goes on from, and when light last fell on it. */
export interface Follows {
  readonly caseId: string;
  /** Milliseconds since the epoch (UTC), so that a change of clocks does not matter. */
  readonly lastExposureWallMs: number;
}

/** How many people chose to take together, where it is not what would be computed. */
interface Groups {
  /** Units in each mix, first mix first; together all units of the case. */
  readonly mixes?: readonly number[];
  /** Subjects in each round, by the step that leads the rounds; together all its subjects. */
  readonly rounds?: Readonly<Record<string, readonly number[]>>;
}

/** One prepared case: which teeth, which protocol, who, which light, which room. */
export interface CaseFile {
  readonly format: 'lutewatch-case';
  readonly formatVersion: 1;
  readonly id: string;
  readonly chartRef: string;
  readonly title: string;
  readonly notation: Notation;
  readonly protocol: string;
  /** In seating order. */
  readonly units: readonly Unit[];
  readonly teeth?: readonly ToothFacts[];
  /** Options taken at set-up, by the choice of the protocol. */
  readonly choices?: Readonly<Record<string, string>>;
  readonly people: readonly Person[];
  readonly room: { readonly temperatureC: number; readonly lux?: number };
  readonly light: Light;
  /** ISO 8601 with offset. */
  readonly scheduledFor?: string;
  readonly allergies?: string;
  /** What is to be injected, by the ids of the reference table. */
  readonly anaesthesia?: { readonly agent: string; readonly technique: string };
  readonly note?: string;
  readonly follows?: Follows;
  readonly paces?: readonly RecordedPace[];
  /** The same for bringing the light from one tooth to the next, by paced light step. */
  readonly changeOvers?: readonly RecordedPace[];
  readonly groups?: Groups;
  /** Chance that rounds and mixes may have of breaking the limits they decide; absent: 0.05. */
  readonly riskMax?: number;
}
