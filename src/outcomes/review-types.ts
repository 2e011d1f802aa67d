/**
 * What the clinic said of its outcomes as a whole: the question that was fixed before anything was
 * counted, the yearly reviews, and the flags at which somebody has looked.
 */
import type { EndPoint } from './life-types.ts';
import type { AGREED_TO } from './vocabulary.ts';

/**
 * Failures accepted a year, by end point: shares above 0, at most 0.2. Chosen by the clinic, without a source. One
 * that is not there reads as 0.02.
 */
export type AcceptedRates = Readonly<Partial<Record<EndPoint, number>>>;

/** Fixed in advance, for all groups. */
export interface Question {
  readonly endPoint: EndPoint;
  /** `window/ID` or `step/ID`: the limits that count. */
  readonly limits: readonly string[];
  /** What early flags and lots are held against. Questions of before carry none. */
  readonly accepted?: AcceptedRates;
  readonly onDay: string;
}

/** One comparison of a review, as it stood then. */
export interface Compared {
  /** What the groups were made by: `limit window/ID`, `revision`, `material`, `lot` … */
  readonly grouping: string;
  readonly lives: number;
  readonly patients: number;
  readonly failures: number;
  /** Patient-robust, against t; null where it was too few to tell. */
  readonly p: number | null;
  /** The same after Holm over all groups of the review. */
  readonly adjusted: number | null;
  /** By labels permuted within patients, for a factor that varies inside them; absent elsewhere. */
  readonly permuted?: number;
  /** Codes of what was missing. */
  readonly refused: readonly string[];
}

/** A dated yearly review: the only place of a p. */
export interface Review {
  readonly onDay: string;
  readonly question: Question;
  readonly compared: readonly Compared[];
  readonly note?: string;
}

/** Somebody has looked at a flag. The chart begins again on that day. */
export interface FlagLooked {
  readonly chart: 'cusum' | 'lot';
  /** The end point of a chart, or `CLASS LOT`. */
  readonly of: string;
  readonly flaggedOn: string;
  readonly lookedOn: string;
  /** What was looked at, in words. */
  readonly note: string;
}

/** What is shown under the own name where a person agrees: figures to the lead, practice with drills to all. */
export type AgreedTo = (typeof AGREED_TO)[number];

export interface Agreement {
  /** The name as it was given. */
  readonly person: string;
  readonly to: AgreedTo;
  readonly onDay: string;
}

export type ReviewSaid =
  | { readonly what: 'question-fixed'; readonly question: Question }
  | { readonly what: 'reviewed'; readonly review: Review }
  | { readonly what: 'flag-looked'; readonly flag: FlagLooked }
  /** A case was deleted and its lives left as counts. Which of them are its lives is said nowhere. */
  | { readonly what: 'lives-left'; readonly caseId: string }
  | ({ readonly what: 'person-agreed' | 'person-withdrew' } & Agreement);

interface Told {
  readonly id: string;
  readonly by: string | null;
  readonly atWallMs: number;
}

/** The fold of all of them. Order does not matter. */
export interface Reviews {
  /** The one that holds; null before any was fixed. */
  readonly question: (Question & Told) | null;
  /** Fixed on tablets that did not know of each other, until one is fixed that knew both; none as a rule. */
  readonly differing: readonly (Question & Told)[];
  /** Those before it, oldest first. */
  readonly earlier: readonly (Question & Told)[];
  /** By day. */
  readonly reviews: readonly (Review & Told)[];
  readonly looked: readonly (FlagLooked & Told)[];
  /** What stands; what was withdrawn is not told. */
  readonly agreed: readonly Agreement[];
  /** Cases whose lives were left, once for each deletion. */
  readonly livesLeft: readonly string[];
}

export const NO_REVIEWS: Reviews = {
  question: null,
  differing: [],
  earlier: [],
  reviews: [],
  looked: [],
  agreed: [],
  livesLeft: [],
};
