/** The whole page, from what was noted. The end point is an argument: it is chosen before anything is counted. Pure. */
import { addMonths } from '../days.ts';
import { exactLimits } from '../figures/binomial-limits.ts';
import { DAYS_A_YEAR, showing, unitYears } from '../figures/sizes.ts';
import { survivalTable } from '../figures/survival-curve.ts';
import type { Limits } from '../figures/tails.ts';
import { type RatePer100, ratePer100 } from '../figures/yearly-rate.ts';
import type { Life } from '../life-types.ts';
import { leftOut, livesOf } from '../lives.ts';
import type { Reviews } from '../review-types.ts';
import { END_POINTS } from '../vocabulary.ts';
import { rateInForce } from './accepted.ts';
import { comparisonsOf, groupingShown, type Made } from './comparisons.ts';
import { caseNamer, countsOf, type Dated, dated, graceOf, isSeen } from './dated.ts';
import { firstDay } from './first-day.ts';
import { chartShown, lotsShown } from './flags.ts';
import { groupingsOf, limitTitles } from './groupings.ts';
import type { OutcomesInput, OutcomesModel, OwnShown, ReviewShown } from './outcomes-types.ts';
import { personsShown } from './persons.ts';
import { curveShown, followedShown, rowsShown } from './whole-curve.ts';

/** Months between two reviews: a p that is looked at more often is a false alarm more often. */
const REVIEW_MONTHS = 12;

/** Null where one may be made today. A review of tomorrow, by a clock that is wrong, still counts. */
export function notBefore(reviews: Reviews, today: string): string | null {
  const last = reviews.reviews.at(-1)?.onDay;
  if (last === undefined) return null;
  const next = addMonths(last, REVIEW_MONTHS);
  return next > today ? next : null;
}

const rateOf = (all: readonly Dated[]): RatePer100 | null => {
  const lives = all.map(({ atVisit }) => atVisit);
  const years = unitYears(lives);
  const failures = lives.filter(({ event }) => event === 'event').length;
  return years > 0 ? ratePer100({ failures, unitYears: years }) : null;
};

/** Of the lives that were looked at: of the others it is not known. */
function limitsOf(all: readonly Dated[]): Limits | null {
  const seen = all.filter(isSeen);
  const events = seen.filter(({ atVisit }) => atVisit.event === 'event').length;
  return seen.length === 0 ? null : exactLimits({ events, n: seen.length });
}

function ownShown(lives: readonly Life[], o: OutcomesInput, graceDays: number): OwnShown | null {
  const { person, endPoint } = o;
  if (person === null) return null;
  const own = lives.filter(({ people }) => people.includes(person));
  const all = dated(own, endPoint);
  const size = showing(all.filter(isSeen).length);
  return {
    counts: countsOf(all, { graceDays, leftOut: leftOut(own, endPoint) }),
    showing: size,
    limits: limitsOf(all),
    rate: rateOf(all),
    rows: size === 'counts' ? [] : survivalTable(all.map(({ atVisit }) => atVisit)),
  };
}

/** Everything that a comparison or a review is made of. */
export function madeFor(o: OutcomesInput): readonly Made[] {
  const lives = livesOf(o.followUps, o.today);
  const all = dated(lives, o.endPoint);
  const graceDays = graceOf(o.everyMonths);
  const limits = o.reviews.question?.limits ?? [];
  return groupingsOf({ lives, followUps: o.followUps, limits }).flatMap((grouping) =>
    comparisonsOf(grouping, all, graceDays),
  );
}

export function outcomesModel(o: OutcomesInput): OutcomesModel {
  const { followUps, endPoint, reviews, today } = o;
  const lives = livesOf(followUps, today);
  const all = dated(lives, endPoint);
  const graceDays = graceOf(o.everyMonths);
  const nameOf = caseNamer(followUps);
  const accepted = rateInForce(reviews, endPoint);
  const size = showing(all.filter(isSeen).length);
  const curve = size === 'counts' ? null : curveShown(all, nameOf);
  const groupings = groupingsOf({
    lives,
    followUps,
    limits: reviews.question?.limits ?? [],
  }).map((grouping) => groupingShown(grouping, all, graceDays));
  const comparisons = groupings.flatMap((grouping) => grouping.comparisons);
  const review: ReviewShown = {
    notBefore: notBefore(reviews, today),
    comparisons: comparisons.length,
    open: comparisons.filter(({ missing }) => missing.length === 0).length,
  };
  return {
    endPoint,
    today,
    accepted,
    counts: countsOf(all, { graceDays, leftOut: leftOut(lives, endPoint) }),
    showing: size,
    limits: limitsOf(all),
    cases: all.filter(({ atVisit }) => atVisit.event === 'event').map(nameOf),
    curve,
    rows: curve === null ? [] : rowsShown(all, { graceDays, hasFewPatients: curve.hasFewPatients }),
    rate: rateOf(all),
    followed: followedShown(all),
    limitTitles: limitTitles(lives),
    groupings,
    charts: END_POINTS.map((each) =>
      chartShown({
        lives,
        accepted: rateInForce(reviews, each),
        looked: reviews.looked,
        today,
        recallDays: Math.round((o.everyMonths * DAYS_A_YEAR) / 12),
        nameOf,
      }),
    ),
    lots: lotsShown(all, { looked: reviews.looked, usualShare: accepted.yearlyRate, nameOf }),
    review,
    firstDay: firstDay(accepted.yearlyRate),
    own: ownShown(lives, o, graceDays),
    persons: o.isForLead
      ? personsShown(all, { followUps, agreed: reviews.agreed, graceDays })
      : null,
  };
}
