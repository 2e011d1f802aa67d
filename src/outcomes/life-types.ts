/**
 * Each bonding of a unit begins a life. Day 0 is the day of the bonding; times are whole days. The
 * patient is the cluster: units of one patient are not independent of one another.
 */
import type { BondedUnit } from './follow-up-types.ts';
import type { END_POINTS } from './vocabulary.ts';

export type EndPoint = (typeof END_POINTS)[number];

/** What is known of the end of a life, for one end point. */
export interface LifeEnd {
  readonly event: 'none' | 'event' | 'competing';
  /** Day on which it was last known not to have happened; for an exact day that day. */
  readonly afterDay: number;
  /** Day on which it was first known to have happened; the same as `afterDay` when exact, null without one. */
  readonly byDay: number | null;
}

/** One life, with what groups are made of. All of that was fixed when the case was signed. */
export interface Life {
  /** `CASE/UNIT`, with `#2` … for what was bonded again without a case of its own. */
  readonly id: string;
  readonly caseId: string;
  readonly patient: string;
  readonly bondedOn: string;
  /** Day from which it was looked after: 0, or later for a unit from before the app was used. */
  readonly entryDay: number;
  /** Day of today since the bonding: the most that it could have been followed. */
  readonly possibleDays: number;
  /** Null: the event was before it was looked after, so it tells nothing. Such lives are counted apart. */
  readonly ends: Readonly<Record<EndPoint, LifeEnd | null>>;
  readonly unit: BondedUnit;
  readonly revision: string | null;
  readonly lots: readonly { readonly materialClass: string; readonly lot: string }[];
  readonly people: readonly string[];
}

/** One life as the figures take it, for one end point and one way of dating. Days, not rounded. */
export interface Timed {
  readonly entry: number;
  readonly time: number;
  readonly event: 'none' | 'event' | 'competing';
  readonly patient: string;
}
