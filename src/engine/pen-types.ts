/** Who writes a case: the tablet that holds its pen. Others read along. */
import type { Stamp } from './stamp-types.ts';

/** The tablet that holds the pen gives it up. */
export interface PenGiven {
  /** Id and name of the tablet that gives it up. */
  readonly tablet: string;
  readonly name: string;
  /** The tablet it is meant for; null: for whoever takes it. */
  readonly to: string | null;
  readonly toName: string;
}

/** A reading of the clock of the tablet before, and how long ago it was by the clock of the one that takes the pen. */
export interface SeenClock {
  readonly stamp: Stamp;
  readonly atLeastMs: number;
  /** Null where nothing tells how late the reading came. */
  readonly atMostMs: number | null;
}

/** Another tablet goes on with the case; written by it. */
export interface PenTaken {
  readonly tablet: string;
  readonly name: string;
  /** Name of the tablet that held it before, as this one knows it; empty where it knows none. */
  readonly fromName: string;
  /** `given`: it was given up. `closed`: the case is signed. `gone`: the tablet before was not heard of. */
  readonly from: 'given' | 'closed' | 'gone';
  /** Said by people; only where the tablet before was not heard of. */
  readonly reason?: string;
  /** Absent where no reading of the other clock was had. */
  readonly seen?: SeenClock;
  /** Hash of the last entry of another end of this case that was known, and that this end is taken in place of. */
  readonly over?: string;
}

export interface Pen {
  /** Id of the tablet that holds it, or that gave it up last; null for cases of older versions, which name none. */
  readonly holder: string | null;
  /** Its name, where the log says it. */
  readonly name: string | null;
  /** Given up, and taken by nobody yet. */
  readonly given: { readonly to: string | null; readonly toName: string } | null;
}

/** The pen at a place of the log, by the entries before it. */
export interface PenPoint extends Pen {
  /** The case was signed before that place, whether or not that was taken back. */
  readonly wasClosed: boolean;
}
