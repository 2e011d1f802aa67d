/** Moments and presses as a record tells them. */
import type { SubjectId } from '../protocol/subjects.ts';

/** A place on the case axis, and the same by the tablet's wall clock at the opening. */
export interface InstantFact {
  /** Milliseconds from the opening of the case: not before, not after; null when nobody knows. */
  readonly loMs: number;
  readonly hiMs: number | null;
  /** ISO 8601, UTC. Equal when the instant is exact; no end when nobody knows it. */
  readonly fromUtc: string;
  readonly toUtc: string | null;
  /** The same in the zone of the record, ISO 8601 with the offset. */
  readonly fromLocal: string;
  readonly toLocal: string | null;
}

/** A length of time; `loMs === hiMs` when it is exact, no upper end when nobody knows it. */
export interface LengthFact {
  readonly loMs: number;
  readonly hiMs: number | null;
}

/** One press as it lies in the log. */
export interface PressFact {
  readonly press: number;
  /** What the tablet's wall clock said when it was pressed, ISO 8601, UTC. */
  readonly pressedUtc: string;
  readonly pressedLocal: string;
  /** How far the press was moved afterwards; negative means earlier. */
  readonly movedByMs: number;
  readonly by: string | null;
}

/** What one press had recorded. */
export interface PressedFact {
  readonly type: string;
  readonly step: string | null;
  readonly subjects: readonly SubjectId[];
  /** What else stands in the log of how it was pressed, as it stands there; null where nothing does. */
  readonly how: string | null;
}
