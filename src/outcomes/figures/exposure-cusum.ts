/**
 * Early flag for a clinic: a CUSUM over exposure. The chart falls by what was expected and rises by
 * ln(ratio) with each failure, never below 0: max(0, chart + ln 2 x failures - expected) for a doubled
 * rate (Stat Med 2008;27:3382; from memory). Failures are dated at what they happened on, so late
 * recalls do no harm. Failures of one patient on one day count once.
 */
import { assert } from '../../base/assert.ts';
import { DAYS_A_YEAR } from './sizes.ts';

/** One life on the calendar. Days since any fixed day, the same for all. */
export interface Watched {
  readonly id: string;
  readonly patient: string;
  readonly fromDay: number;
  /** Day of the failure, or the last day of observation. */
  readonly toDay: number;
  readonly isFailed: boolean;
}

/** The chart on a day with a failure. */
export interface ChartPoint {
  readonly day: number;
  /** Lives that failed on this day. */
  readonly failed: readonly string[];
  /** Patients among them: what the chart counts. */
  readonly counted: number;
  readonly chart: number;
  readonly limit: number;
  /** Above the limit; with nothing changed that happens about once in ten years. */
  readonly isFlag: boolean;
}

export interface ExposureChart {
  readonly points: readonly ChartPoint[];
  /** The chart on the last day, after the fall since the last failure. */
  readonly now: number;
  /** Failures expected in the year before the last day, at the accepted rate. */
  readonly expectedPerYear: number;
  /** Failures expected since the start, or since the last look. */
  readonly expected: number;
  /** What raised a flag since the last look: the first point above the limit; null without one. */
  readonly openFlag: ChartPoint | null;
}

/**
 * Limit and mean number of expected failures until a false flag, for a doubled rate. Computed by an
 * integral equation, checked by simulation; no source.
 */
export const FALSE_FLAGS: readonly (readonly [limit: number, expectedFailures: number])[] = [
  [1, 3.959934],
  [1.5, 9.74363],
  [2, 19.999035],
  [2.5, 37.848178],
  [3, 68.685626],
  [3.5, 120.327953],
  [4, 206.93378],
  [5, 588.62],
  [6, 1631.6],
  [7, 4472],
];

const YEARS_TO_A_FALSE_FLAG = 10;

/**
 * Limit for one false flag in ten years, by what is expected a year: 1.5 at 1, 2.0 at 2, 2.55 at 4, 3.3
 * at 10, 4.0 at 20; straight lines on the log scale between the computed limits. Never below 1: there
 * false flags are rarer than that. Above 7 the last line goes on.
 */
export function limitFor(expectedPerYear: number): number {
  const wanted = Math.log(Math.max(expectedPerYear * YEARS_TO_A_FALSE_FLAG, Number.MIN_VALUE));
  let [low, high] = [FALSE_FLAGS[0], FALSE_FLAGS[1]];
  for (let at = 1; at + 1 < FALSE_FLAGS.length; at += 1) {
    if (wanted <= Math.log(high?.[1] ?? 0)) break;
    [low, high] = [FALSE_FLAGS[at], FALSE_FLAGS[at + 1]];
  }
  assert(low !== undefined && high !== undefined, 'the table has at least two rows');
  const share = (wanted - Math.log(low[1])) / (Math.log(high[1]) - Math.log(low[1]));
  return low[0] + Math.max(0, share) * (high[0] - low[0]);
}

/** `yearlyRate` is the accepted rate a year; `looks` are the days on which a flag was looked at. */
export function exposureChart(o: {
  readonly watched: readonly Watched[];
  readonly yearlyRate: number;
  readonly ratio?: number;
  readonly looks: readonly number[];
  readonly today: number;
  /** A limit that stands fast; without it the one for the exposure of the year before. */
  readonly limit?: number;
}): ExposureChart {
  const up = Math.log(o.ratio ?? 2);
  const down = ((o.ratio ?? 2) - 1) * (o.yearlyRate / DAYS_A_YEAR);
  const exposure = exposureUntil(o.watched);
  const perYear = (day: number): number =>
    ((exposure(day) - exposure(day - DAYS_A_YEAR)) * o.yearlyRate) / DAYS_A_YEAR;
  const looks = o.looks.toSorted((a, b) => a - b);
  const points: ChartPoint[] = [];
  let [chart, since, look] = [0, Number.NEGATIVE_INFINITY, 0];
  let openFlag: ChartPoint | null = null;
  const fallTo = (day: number): void => {
    for (; look < looks.length && (looks[look] ?? day) < day; look += 1) {
      [chart, since, openFlag] = [0, looks[look] ?? since, null];
    }
    chart = Math.max(0, chart - (exposure(day) - exposure(since)) * down);
    since = day;
  };
  for (const [day, failed] of failureDays(o.watched)) {
    if (day > o.today) break;
    fallTo(day);
    const counted = new Set(failed.map((life) => life.patient)).size;
    chart += up * counted;
    const limit = o.limit ?? limitFor(perYear(day));
    const ids = failed.map((life) => life.id);
    const point = { day, failed: ids, counted, chart, limit, isFlag: chart > limit };
    points.push(point);
    if (point.isFlag) openFlag ??= point;
  }
  const lastLook = looks.findLast((day) => day <= o.today) ?? Number.NEGATIVE_INFINITY;
  fallTo(Math.max(o.today, since));
  if (since === lastLook) [chart, openFlag] = [0, null];
  return {
    points,
    now: chart,
    expectedPerYear: perYear(o.today),
    expected: ((exposure(o.today) - exposure(lastLook)) * o.yearlyRate) / DAYS_A_YEAR,
    openFlag,
  };
}

/** Failures by day, in order. */
function failureDays(
  watched: readonly Watched[],
): readonly (readonly [number, readonly Watched[]])[] {
  const days = new Map<number, Watched[]>();
  for (const life of watched) {
    if (!life.isFailed) continue;
    const known = days.get(life.toDay);
    if (known === undefined) days.set(life.toDay, [life]);
    else known.push(life);
  }
  return [...days].sort(([a], [b]) => a - b);
}

/** Unit-days under observation up to a day. Time grows with log(lives). */
function exposureUntil(watched: readonly Watched[]): (day: number) => number {
  const starts = summed(watched.map((life) => life.fromDay));
  const ends = summed(watched.map((life) => Math.max(life.fromDay, life.toDay)));
  return (day) => (day === Number.NEGATIVE_INFINITY ? 0 : starts(day) - ends(day));
}

/** For sorted days: the sum of (day - each) over those before `day`. */
function summed(days: readonly number[]): (day: number) => number {
  const sorted = Float64Array.from(days).sort();
  const sums = new Float64Array(sorted.length + 1);
  sorted.forEach((each, at) => {
    sums[at + 1] = (sums[at] ?? 0) + each;
  });
  return (day) => {
    let [low, high] = [0, sorted.length];
    while (low < high) {
      const middle = (low + high) >>> 1;
      if ((sorted[middle] ?? day) < day) low = middle + 1;
      else high = middle;
    }
    return low * day - (sums[low] ?? 0);
  };
}
