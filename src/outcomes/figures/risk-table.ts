/**
 * Who is at risk when: the table that every curve is made of. A life that enters late counts from the
 * day after its entry on (left truncation; invented check, survival 3.5-3). A life that was looked
 * after from its bonding counts from day 0 on, day 0 included: a unit may be lost the same day.
 */
import type { Timed } from '../life-types.ts';

/** A day on which something happened. */
export interface RiskRow {
  readonly day: number;
  /** Lives that were under observation just before. */
  readonly atRisk: number;
  readonly failures: number;
  readonly competing: number;
}

export const isAtRisk = (life: Timed, day: number): boolean =>
  day <= life.time && (life.entry < day || life.entry === 0);

/** A life that ended on the day of its late entry was never under observation. */
export const isObserved = (life: Timed): boolean => life.entry === 0 || life.time > life.entry;

/** Lives that are under observation and free of an event after this day. */
export const atRiskAfter = (lives: readonly Timed[], day: number): number =>
  lives.filter((life) => life.entry <= day && life.time > day).length;

const ascending = (a: number, b: number): number => a - b;

/** Days with an event, in order. Rows of `lives` may come in any order. */
export function riskTable(lives: readonly Timed[]): readonly RiskRow[] {
  const observed = lives.filter(isObserved);
  const entries = observed.map((life) => (life.entry === 0 ? -1 : life.entry)).sort(ascending);
  const times = observed.map((life) => life.time).sort(ascending);
  const counts = new Map<number, { failures: number; competing: number }>();
  for (const { time, event } of observed) {
    if (event === 'none') continue;
    const count = counts.get(time) ?? { failures: 0, competing: 0 };
    if (event === 'event') count.failures += 1;
    else count.competing += 1;
    counts.set(time, count);
  }
  let entered = 0;
  let left = 0;
  return [...counts]
    .sort(([a], [b]) => a - b)
    .map(([day, count]) => {
      while ((entries[entered] ?? day) < day) entered += 1;
      while ((times[left] ?? day) < day) left += 1;
      return { day, atRisk: entered - left, ...count };
    });
}
