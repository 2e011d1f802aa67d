/** What a record tells beside the steps. Each part is left out where there is nothing to tell. */
import type { EmergencyNote } from '../engine/aside-types.ts';
import type { InstantFact, PressFact } from './record-instant-types.ts';

export interface EmergencyFact {
  readonly card: EmergencyNote['card'];
  readonly act: EmergencyNote['act'];
  readonly line: string | null;
  readonly at: InstantFact;
  readonly pressed: PressFact;
}

export interface InjectionFact {
  readonly agent: string;
  readonly technique: string;
  /** ISO 3950. */
  readonly teeth: readonly string[];
  readonly ml: number | null;
  readonly at: InstantFact;
  readonly pressed: PressFact;
}

/** What was counted in and out again. */
export interface CountFact {
  /** The step that counts out, and what it counts. */
  readonly step: string;
  readonly title: string;
  readonly subject: string;
  readonly in: number | null;
  readonly out: number | null;
  readonly isOut: boolean;
  readonly isEven: boolean;
}

export interface AsideFacts {
  readonly emergencies?: readonly EmergencyFact[];
  readonly anaesthesia?: readonly InjectionFact[];
  readonly counts?: readonly CountFact[];
}
