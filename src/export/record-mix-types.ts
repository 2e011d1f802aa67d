/** Portions of cement and shades that were tried, as a record tells them. */
import type { ShadeTrial } from '../engine/material-types.ts';
import type { SubjectId } from '../protocol/subjects.ts';
import type { InstantFact } from './record-instant-types.ts';

export interface MixFact {
  readonly mix: SubjectId;
  readonly units: readonly string[];
  readonly beads: readonly { readonly found: string; readonly at: InstantFact }[];
}

export interface ShadeFact {
  /** `case` for the set, or a unit. */
  readonly subject: string;
  readonly paste: string;
  readonly modifier: string | null;
  readonly sharePercent: number | null;
  readonly judgedBy: string;
  readonly result: ShadeTrial['result'];
  readonly note: string | null;
  readonly at: InstantFact;
}
