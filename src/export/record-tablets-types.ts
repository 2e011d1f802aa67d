/** On which tablet each part of a case was pressed, and what was pressed beside it, as facts. */
import type { PenTaken } from '../engine/pen-types.ts';
import type { PressedFact, PressFact } from './record-instant-types.ts';

/** Presses of one tablet in a row. */
export interface TabletPartFact {
  /** Null for cases of older versions, which name none. */
  readonly tablet: string | null;
  readonly name: string | null;
  readonly fromPress: number;
  readonly toPress: number;
  /** How the tablet came by the case; null where it was opened there. */
  readonly taken: {
    readonly from: PenTaken['from'];
    readonly fromName: string;
    readonly reason: string | null;
    readonly pressed: PressFact;
  } | null;
  /** To whom it gave the case up; null where it did not. */
  readonly given: {
    /** Null: to whoever takes it. */
    readonly to: string | null;
    readonly toName: string;
    readonly pressed: PressFact;
  } | null;
}

/** What another tablet pressed in the place of other entries. Nothing of it counts in this record. */
export interface SecondEndFact {
  readonly tablet: string;
  readonly name: string | null;
  /** Entries that both ends have. */
  readonly common: number;
  readonly presses: number;
  readonly entries: number;
  /** When its first entry was pressed, by the clock of that tablet. */
  readonly since: PressFact;
  /**
   * `left`: the pen was taken in the end of this record, which goes on. `without-pen`: that tablet did not hold
   * the pen there. `unclear`: neither.
   */
  readonly standing: 'left' | 'without-pen' | 'unclear';
  readonly pressed: readonly (PressFact & { readonly was: readonly PressedFact[] })[];
}

export interface TabletFacts {
  /** Absent where one tablet pressed everything and gave nothing up. */
  readonly tablets?: readonly TabletPartFact[];
  /** Absent where there is none. */
  readonly secondEnds?: readonly SecondEndFact[];
}
