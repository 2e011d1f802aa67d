/**
 * The yearly rate that the early flags are held against. The clinic fixes it with its question, for the end
 * point that it chose; it has no source. A rate that was never fixed is 2 %, a choice of this app. Pure.
 */
import type { EndPoint } from '../life-types.ts';
import type { AcceptedRates, Question, Reviews } from '../review-types.ts';
import { END_POINTS } from '../vocabulary.ts';

/** Accepted of an end point for which nothing was fixed: 2 % a year, and 2 % of a lot in its first year. A choice, without a source. */
export const ACCEPTED_A_YEAR = 0.02;

/** The highest share a year that a question may accept. A choice. */
export const ACCEPTED_MAX = 0.2;

/** The rate that holds for one end point. */
export interface RateInForce {
  readonly endPoint: EndPoint;
  /** Share a year, above 0. */
  readonly yearlyRate: number;
  /** The day on which the clinic fixed it; null where it fixed none. */
  readonly fixedOn: string | null;
  /** The last rate before it that was another; null where there was none. */
  readonly before: number | null;
}

const fixedRate = (question: Question | null, endPoint: EndPoint): number | null =>
  question?.accepted?.[endPoint] ?? null;

/** The rate of a question for the end point; 2 % where it carries none. */
export const rateOf = (question: Question | null, endPoint: EndPoint): number =>
  fixedRate(question, endPoint) ?? ACCEPTED_A_YEAR;

/** The rate of the end point that a question chose. */
export const rateOfQuestion = (
  question: Question,
): Pick<RateInForce, 'endPoint' | 'yearlyRate' | 'fixedOn'> => {
  const { endPoint, onDay } = question;
  const isFixed = fixedRate(question, endPoint) !== null;
  return { endPoint, yearlyRate: rateOf(question, endPoint), fixedOn: isFixed ? onDay : null };
};

/** While tablets differ in the question the lowest of their rates holds: rather a flag too many. */
function holding({ question, differing }: Reviews, endPoint: EndPoint): Question | null {
  return differing.reduce<Question | null>(
    (lowest, one) => (rateOf(one, endPoint) < rateOf(lowest, endPoint) ? one : lowest),
    differing[0] ?? question,
  );
}

export function rateInForce(reviews: Reviews, endPoint: EndPoint): RateInForce {
  const now = holding(reviews, endPoint);
  const yearlyRate = rateOf(now, endPoint);
  // Before any question was fixed the rate of the app held.
  const all = [null, ...reviews.earlier, now];
  const at = all.findLastIndex((one) => rateOf(one, endPoint) !== yearlyRate);
  const first = all.slice(at + 1).find((one) => fixedRate(one, endPoint) !== null);
  return {
    endPoint,
    yearlyRate,
    fixedOn: first?.onDay ?? null,
    before: at < 0 ? null : rateOf(all[at] ?? null, endPoint),
  };
}

/** The rates that a new question carries: one for its end point, and what the clinic fixed for the others before. */
export function acceptedWith(
  reviews: Reviews,
  o: { readonly endPoint: EndPoint; readonly yearlyRate: number },
): AcceptedRates {
  const rates = END_POINTS.flatMap((endPoint) => {
    if (endPoint === o.endPoint) return [[endPoint, o.yearlyRate] as const];
    const { fixedOn, yearlyRate } = rateInForce(reviews, endPoint);
    return fixedOn === null ? [] : [[endPoint, yearlyRate] as const];
  });
  return Object.fromEntries(rates);
}
