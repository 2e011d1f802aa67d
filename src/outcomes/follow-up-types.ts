/**
 * Follow-up: what was bonded, and what was found of it later. It is a journal of its own beside the
 * record: entries in the past tense, each of which names the ones before it, corrected by further
 * entries and never changed. Days are ISO 8601 calendar dates (`2026-11-30`) in the clinic's zone.
 */
import type { FINDINGS, LIMIT_STATES, THENS } from './vocabulary.ts';

/** What is found of a unit, or of one retainer of a bridge. */
export type Finding = (typeof FINDINGS)[number];
/** What was done about it. */
export type Then = (typeof THENS)[number];
/** Whether a limit was kept; `cannot-tell` where it lies inside what is known of the clocks. */
export type LimitState = (typeof LIMIT_STATES)[number];

/** One limit of the bonding, as it stood when the case was signed. */
export interface LimitKept {
  /** `window/ID` or `step/ID` of the protocol. */
  readonly limit: string;
  readonly title: string;
  readonly state: LimitState;
}

/** One unit as it was bonded. What is said of it is worked out at the signature and never again. */
export interface BondedUnit {
  readonly unit: string;
  /** ISO 3950 numbers of the teeth that it is bonded to: the retainers of a bridge, without pontics. */
  readonly teeth: readonly string[];
  readonly isBridge: boolean;
  readonly restoration: string;
  /** Class of the material, never a product. */
  readonly material: string;
  readonly limits: readonly LimitKept[];
}

/** What one case bonded. */
export interface BondedCase {
  readonly what: 'bonded';
  /** The chart reference: units of one patient belong together in every figure. */
  readonly patient: string;
  readonly title: string;
  readonly bondedOn: string;
  /**
   * The day from which it was looked after, where that is later than the bonding: a unit from before
   * the app was used.
   */
  readonly seenFrom?: string;
  /**
   * Of what was left of a deleted case: days from the bonding up to which it could have been seen, to the nearest half
   * year, which tells nobody the day of the deletion. What was left before this was kept has none.
   */
  readonly followedDays?: number;
  /** Of a case that was bonded before the app was used there is none. */
  readonly protocol?: {
    readonly id: string;
    readonly title: string;
    readonly revision: number;
    readonly hash: string;
  };
  /** Labels of the people of the case, by role. */
  readonly people: readonly { readonly role: 'dentist' | 'assistant'; readonly label: string }[];
  readonly lots: readonly { readonly materialClass: string; readonly lot: string }[];
  readonly units: readonly BondedUnit[];
}

/** A grade as somebody read it off a named scale; it is kept as entered and never made from our words. */
export interface Grade {
  readonly scale: string;
  readonly year: number;
  readonly item: string;
  readonly grade: string;
}

interface Found {
  /** At least one; `in-place` and `not-seen` stand alone. */
  readonly findings: readonly Finding[];
}

/** What was found of one unit. */
export interface UnitFound extends Found {
  readonly unit: string;
  /** Of a bridge, where the retainers differ: each by its tooth. */
  readonly retainers?: readonly (Found & { readonly tooth: string })[];
  readonly done?: Then;
  /** The case with which it was bonded again, where that is known. */
  readonly bondedAgainIn?: string;
  /** The day on which the patient says that it happened. */
  readonly statedDay?: string;
  readonly grades?: readonly Grade[];
}

/** One recall visit of one case. */
export interface Visit {
  readonly onDay: string;
  /** Who looked. */
  readonly examiner: string;
  /** Whether the examiner had bonded it. */
  readonly isOwnWork: boolean;
  readonly units: readonly UnitFound[];
  readonly note?: string;
}

/** What the entries of the follow-up of one case say. */
export type FollowUpSaid =
  | BondedCase
  | ({ readonly what: 'visited' } & { readonly visit: Visit })
  | {
      readonly what: 'visit-corrected';
      /** Id of the entry of the visit, or of its last correction. */
      readonly of: string;
      readonly visit: Visit;
      readonly reason: string;
    }
  | { readonly what: 'visit-struck'; readonly of: string; readonly reason: string }
  /** No further recall: moved away, declined. */
  | { readonly what: 'recalls-ended'; readonly reason: string; readonly onDay: string }
  | { readonly what: 'recalls-resumed'; readonly onDay: string }
  /** The signature was taken back, or the bonding was noted by mistake: `of` is the entry that said it. */
  | { readonly what: 'bonding-withdrawn'; readonly of: string; readonly reason: string };

/** A visit that counts, with the entry that says it. */
export interface KeptVisit {
  readonly id: string;
  readonly visit: Visit;
  readonly by: string | null;
  readonly atWallMs: number;
  /** Entries that it replaced, oldest first; each with the reason for which it was replaced. */
  readonly was: readonly { readonly id: string; readonly visit: Visit; readonly reason: string }[];
}

/** One of two states of a visit that were written without knowing of each other. */
export interface VisitSide {
  /** Id of the entry that says it. */
  readonly id: string;
  /** Null where this side struck the visit. */
  readonly visit: Visit | null;
  readonly reason: string;
  readonly by: string | null;
  /** Of the tablet that said it. */
  readonly tablet: string;
  readonly atWallMs: number;
}

/** A visit of which two tablets tell differently, until an entry is written that knew both. */
export interface DifferingVisit {
  /** Id of the entry of the visit. */
  readonly visit: string;
  readonly sides: readonly VisitSide[];
}

/** The follow-up of one case: the fold of its entries. Order does not matter. */
export interface FollowUp {
  readonly caseId: string;
  readonly bonded: BondedCase | null;
  /** By day, then by entry. */
  readonly visits: readonly KeptVisit[];
  readonly struck: readonly {
    /** Id of the entry that struck it. */
    readonly id: string;
    /** Id of the entry that noted it first. */
    readonly of: string;
    readonly visit: Visit;
    readonly reason: string;
  }[];
  readonly recallsEnded: { readonly reason: string; readonly onDay: string } | null;
  /** None as a rule. The first side that is no striking stands among `visits` meanwhile. */
  readonly differing: readonly DifferingVisit[];
  /** Entries that this version cannot read: kept as they are, told and never dropped. */
  readonly unread: readonly string[];
  /** What a new entry follows. */
  readonly heads: readonly string[];
}
