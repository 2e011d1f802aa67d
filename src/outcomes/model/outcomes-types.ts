/**
 * What the page of outcomes shows, as plain data: it is worked out in the planning thread and handed
 * over. Days are whole days or, half way between two visits, half days; shares lie between 0 and 1.
 */
import type { SideFacts } from '../figures/comparison.ts';
import type { ChartPoint } from '../figures/exposure-cusum.ts';
import type { GATES, Missing } from '../figures/gates.ts';
import type { LotSays } from '../figures/lots.ts';
import type { Showing } from '../figures/sizes.ts';
import type { CurvePoint, CurveStep } from '../figures/survival-curve.ts';
import type { Limits } from '../figures/tails.ts';
import type { CompoundRate, RatePer100 } from '../figures/yearly-rate.ts';
import type { FollowUp } from '../follow-up-types.ts';
import type { EndPoint } from '../life-types.ts';
import type { Reviews } from '../review-types.ts';
import type { RateInForce } from './accepted.ts';
import type { FirstDay } from './first-day.ts';

/** Everything that the page is worked out from. */
export interface OutcomesInput {
  readonly followUps: readonly FollowUp[];
  readonly reviews: Reviews;
  /** Calendar day in the clinic. */
  readonly today: string;
  /** Chosen before anything is counted. */
  readonly endPoint: EndPoint;
  /** Months from one recall to the next: what was not seen for longer than that and half a year is unseen. */
  readonly everyMonths: number;
  /** Label of the person who asked for the own figures; null where nobody did. */
  readonly person: string | null;
  /** Whether the lead asks for figures by person. */
  readonly isForLead: boolean;
}

/** One life that a figure points at, with where it leads. */
export interface CaseOf {
  readonly life: string;
  readonly caseId: string;
  readonly patient: string;
  readonly title: string;
  readonly unit: string;
  readonly teeth: readonly string[];
  readonly bondedOn: string;
  /** Calendar day on which it was found, or is said to have happened. */
  readonly failedOn: string;
  /** The patient knew the day; otherwise it is that of the visit that found it. */
  readonly isStated: boolean;
}

/** How many of what: stands beside every figure. */
export interface Counts {
  readonly lives: number;
  /** Looked at at least once since they were bonded. */
  readonly seen: number;
  readonly patients: number;
  readonly failures: number;
  readonly patientsWithFailure: number;
  /** Lives that something else ended: replaced for another reason, tooth lost. */
  readonly competing: number;
  /** Not looked at for longer than a recall interval and half a year. */
  readonly unseen: number;
  /** Those, and what was never looked at at all. */
  readonly notKnown: number;
  /** Lost before they were looked after: they tell nothing. */
  readonly leftOut: number;
  /** Units of one patient are not independent of one another. */
  readonly hasSeveral: boolean;
  readonly unitYears: number;
}

/** A step of the curve with the lives that were lost on that day. */
export interface StepShown extends CurveStep {
  readonly cases: readonly CaseOf[];
}

/** One row of the table: 1, 3, 5 and 10 years. Null: nobody was followed that long. */
export interface RowShown {
  readonly years: number;
  readonly point: CurvePoint | null;
  /** The same where failures are dated half way between the two visits. */
  readonly atMidGap: number | null;
  /** Turnbull's curve: between these two. Null where it was not asked for. */
  readonly turnbull: Limits | null;
  /** If every unseen life failed on the day after it was last seen, and if none did. */
  readonly ifAllFailed: number | null;
  readonly ifNoneFailed: number | null;
  /** Yearly rate by the first custom, from the curve. */
  readonly compound: CompoundRate | null;
  /** Share failed and share ended otherwise; null where nothing competes. */
  readonly incidence: IncidenceShown | null;
  /** Share of patients without any failure; only where few patients had one. */
  readonly patients: CurvePoint | null;
}

export interface IncidenceShown {
  readonly failed: number;
  readonly limits: Limits | null;
  readonly competingFirst: number;
  readonly eventFree: number;
}

export interface YearAtRisk {
  readonly years: number;
  readonly lives: number;
}

export interface CurveShown {
  readonly lastDay: number;
  readonly thinFrom: number | null;
  /** The first step that was made with fewer than 10, before more came; every later share rests on it. */
  readonly fewAt: { readonly day: number; readonly atRisk: number } | null;
  readonly steps: readonly StepShown[];
  /** Lives under observation after whole years, from 0. */
  readonly atRisk: readonly YearAtRisk[];
  readonly hasFewPatients: boolean;
}

export interface FollowedShown {
  /** Days; null where not reached. */
  readonly median: number | null;
  /** Median life in days; null: the curve does not come down to one half. */
  readonly medianLife: number | null;
  readonly completeness: number | null;
  readonly says: 'complete' | 'banner' | 'no-comparison' | null;
  /** Failures, and those that lie in gaps above half a year. */
  readonly failures: number;
  readonly wide: number;
  readonly wantsCheck: boolean;
}

export type GroupKind = 'limits' | 'limit' | 'revision' | 'material' | 'lot' | 'person';

/** What else differs between groups: nobody drew lots. */
export interface Also {
  readonly frontTeeth: number;
  /** By class, the most first. */
  readonly materials: readonly (readonly [material: string, lives: number])[];
  /** Units bonded at the same visit, on average over the lives of the group. */
  readonly unitsPerCase: number;
  readonly firstBonded: string;
  readonly lastBonded: string;
}

export interface GroupShown {
  /** `kept`, `broken`, `cannot-tell`; the number of a revision; a class; a lot; a person. */
  readonly name: string;
  readonly lives: number;
  readonly patients: number;
  readonly failures: number;
  readonly unseen: number;
  readonly rate: RatePer100 | null;
  readonly also: Also;
}

/** Steps of a plain curve, for two that are drawn together. */
export interface PlainCurve {
  readonly lastDay: number;
  /** From this day on fewer than 10 are under observation; null where that is never so. */
  readonly thinFrom: number | null;
  /** Lives under observation after whole years, from 0. */
  readonly atRisk: readonly YearAtRisk[];
  readonly steps: readonly { readonly day: number; readonly survival: number }[];
}

/** One comparison without its p, which is told in a yearly review alone. */
export interface ComparisonShown {
  /** `limit window/ID broken`, `material zirconia` …: the same in every review. */
  readonly key: string;
  readonly first: SideFacts;
  readonly rest: SideFacts;
  readonly missing: readonly Missing[];
  readonly smallestRatio: number | null;
  readonly patientsInBoth: number;
  /** Of revisions: the days that both have. */
  readonly commonDays: number | null;
  /** Null while anything is missing. */
  readonly curves: readonly [first: PlainCurve, rest: PlainCurve] | null;
}

export interface GroupingShown {
  /** `limits`, `limit window/ID`, `revision ID`, `material`, `lot CLASS`. */
  readonly id: string;
  readonly kind: GroupKind;
  /** Title of the limit or the protocol, the class; empty where nothing is to be added. */
  readonly about: string;
  readonly groups: readonly GroupShown[];
  /** Lives of which nothing of this is known. */
  readonly unknown: number;
  readonly comparisons: readonly ComparisonShown[];
}

export interface PointShown extends Omit<ChartPoint, 'failed'> {
  readonly cases: readonly CaseOf[];
}

export interface ChartShown {
  readonly endPoint: EndPoint;
  /** Days since 1970 of the points: days of the calendar. */
  readonly points: readonly PointShown[];
  readonly fromDay: number;
  readonly today: number;
  readonly now: number;
  readonly limit: number;
  readonly expected: number;
  readonly expectedPerYear: number;
  readonly accepted: RateInForce;
  /** Whether a flag would stand at the rate before; null where the rate was never another one. */
  readonly wasFlagged: boolean | null;
  readonly failures: number;
  /** The calendar day of the first point above the limit since the last look; null without one. */
  readonly flaggedOn: string | null;
  /** The cases that raised the flag: since the chart last stood at 0. */
  readonly flagged: readonly CaseOf[];
  readonly lookedOn: readonly string[];
}

export interface LotShown {
  readonly materialClass: string;
  readonly lot: string;
  readonly lives: number;
  readonly failures: number;
  readonly patientsWithFailure: number;
  readonly says: LotSays;
  /** Calendar day of the last failure that counts; null without one. */
  readonly lastFailedOn: string | null;
  readonly lookedOn: string | null;
  /** To be looked at, and nobody has since the last failure. */
  readonly isOpen: boolean;
  readonly cases: readonly CaseOf[];
}

/** When the next yearly review may be made. */
export interface ReviewShown {
  /** Null: today. */
  readonly notBefore: string | null;
  readonly comparisons: number;
  readonly open: number;
}

/** Figures of one person, for that person. */
export interface OwnShown {
  readonly counts: Counts;
  readonly showing: Showing;
  readonly limits: Limits | null;
  readonly rate: RatePer100 | null;
  readonly rows: readonly { readonly years: number; readonly point: CurvePoint | null }[];
}

/** The group of all who did not agree; no name is written so. */
export const NOT_NAMED = '*';

/** Why nothing is shown by person: a gate, the agreement of people, a test that can be worked out. */
export type PersonsMissing = keyof typeof GATES | 'one-person' | 'agreement' | 'test';

/** Figures by person, for the lead. */
export type PersonsShown =
  | { readonly isOpen: true; readonly grouping: GroupingShown }
  | { readonly isOpen: false; readonly missing: readonly PersonsMissing[] };

export interface OutcomesModel {
  readonly endPoint: EndPoint;
  readonly today: string;
  /** The accepted yearly rate of the end point. */
  readonly accepted: RateInForce;
  readonly counts: Counts;
  readonly showing: Showing;
  /** Exact limits of the share failed; null without a life. */
  readonly limits: Limits | null;
  readonly cases: readonly CaseOf[];
  /** Null below 20 lives. */
  readonly curve: CurveShown | null;
  readonly rows: readonly RowShown[];
  /** By the second custom; null without a day of observation. */
  readonly rate: RatePer100 | null;
  readonly followed: FollowedShown;
  /** Limits that follow-ups name, for whoever fixes which of them count. */
  readonly limitTitles: readonly (readonly [limit: string, title: string])[];
  readonly groupings: readonly GroupingShown[];
  readonly charts: readonly ChartShown[];
  readonly lots: readonly LotShown[];
  readonly review: ReviewShown;
  readonly firstDay: FirstDay;
  readonly own: OwnShown | null;
  /** Null while the lead does not ask. */
  readonly persons: PersonsShown | null;
}
