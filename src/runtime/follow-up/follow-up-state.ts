/** What the screens of follow-up and outcomes are drawn from. */
import type { Contradiction } from '../../outcomes/contradictions.ts';
import type {
  BondedCase,
  BondedUnit,
  DifferingVisit,
  FollowUp,
  Visit,
} from '../../outcomes/follow-up-types.ts';
import type { CaseRecalls, Recall } from '../../outcomes/recalls.ts';
import { NO_REVIEWS, type Reviews } from '../../outcomes/review-types.ts';

/** Kinds of facts of this room. */
export const FOLLOW_UP = 'follow-up';
export const OUTCOME_REVIEW = 'outcome-review';
/** The item under which the question is fixed. */
export const QUESTION = 'question';
/** The item under which it is said of which cases lives were left. */
export const LIVES_LEFT = 'lives-left';

/** One case that bonded something, with what became of it. */
export interface FollowUpRow {
  /** Id of the case; `earlier-…` of units from before the app, `left-…` of a case that was deleted. */
  readonly caseId: string;
  readonly origin: 'case' | 'earlier' | 'left';
  /** The chart reference; of a deleted case an id that leads nowhere. */
  readonly patient: string;
  readonly title: string;
  readonly bondedOn: string;
  readonly units: readonly BondedUnit[];
  readonly recalls: CaseRecalls;
  /** The recall that is due or overdue today; null where none is. */
  readonly due: Recall | null;
  /** The day on which anything of it was last seen; null where nothing was. */
  readonly lastSeen: string | null;
  /** Visits that two tablets tell differently. */
  readonly differing: readonly DifferingVisit[];
  /** Visits that cannot all be so; none as a rule. */
  readonly contradictions: readonly Contradiction[];
  readonly followUp: FollowUp;
}

export interface FollowUpsState {
  /** False until the entries of this tablet were read. */
  readonly isRead: boolean;
  /** Every case that bonded something, the latest bonding first. */
  readonly list: readonly FollowUpRow[];
  /** The same, where a recall is due or overdue: the longest due first. */
  readonly due: readonly FollowUpRow[];
  readonly reviews: Reviews;
  /** Cases whose lives count more than once: left by two tablets, or left by one while the case is still here. */
  readonly leftTwice: number;
  /**
   * Closed cases of patients from before follow-up was kept, while they are taken in; null once there is
   * nothing to be taken in. It stands still while a case runs.
   */
  readonly takingIn: { readonly done: number; readonly of: number } | null;
  /** Closed cases that cannot be read, and so were not taken in. */
  readonly notTakenIn: readonly string[];
  /** Entries that this version cannot read: they stay stored as they are. */
  readonly unread: number;
  /** The calendar day in the clinic for which all of this was worked out. */
  readonly today: string;
}

export const FIRST_FOLLOW_UPS: FollowUpsState = {
  isRead: false,
  list: [],
  due: [],
  reviews: NO_REVIEWS,
  leftTwice: 0,
  takingIn: null,
  notTakenIn: [],
  unread: 0,
  today: '',
};

/** A visit as somebody began to correct it. */
export interface VisitChange {
  readonly caseId: string;
  /** Id of the entry that holds now: `KeptVisit.id`, or of one side of a visit that differs. */
  readonly of: string;
  readonly reason: string;
  readonly by: string | null;
  /**
   * `FollowUp.heads` as they were when the form was opened: what came meanwhile stays beside it. Absent:
   * it was seen as it stands now.
   */
  readonly seen?: readonly string[];
}

export type CorrectedVisit = VisitChange & { readonly visit: Visit };

/** Units that were bonded before the app was used. */
export type EarlierBonding = Omit<BondedCase, 'what' | 'protocol' | 'seenFrom'> & {
  /** The first day on which somebody looked at them. */
  readonly seenFrom: string;
};
