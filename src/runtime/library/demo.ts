/**
 * The invented cases and lots that a fresh tablet begins with, dated from the day of its first
 * start: nothing of them is overdue or expired on that day, whenever it is.
 */
import * as v from 'valibot';
import type { CaseFile } from '../../protocol/case-types.ts';
import { dayAfter, type Times } from '../../words/date-words.ts';
import type { Material } from '../stock/stock-types.ts';

/** The first appointment of the demonstration is on the day after the first start. */
const FIRST_IN_DAYS = 1;

const dayOf = (iso: string): string => iso.slice(0, 'yyyy-mm-dd'.length);

/** When the app was first started, and how that is told in the clinic. */
interface FirstStart {
  readonly nowMs: number;
  readonly times: Times;
}

/**
 * Moves every day of the cases by as many days as bring the first appointment to tomorrow; the time
 * of the day stays.
 */
export function datedFrom(
  specs: readonly CaseFile[],
  { nowMs, times }: FirstStart,
): readonly CaseFile[] {
  const days = specs.flatMap(({ scheduledFor }) => (scheduledFor ? [dayOf(scheduledFor)] : []));
  const first = days.toSorted()[0];
  if (first === undefined) return specs;
  const by = times.daysFrom(first, nowMs) + FIRST_IN_DAYS;
  return specs.map(({ scheduledFor, light, ...spec }) => ({
    ...spec,
    ...(scheduledFor === undefined ? {} : { scheduledFor: movedBy(by, scheduledFor, times) }),
    light: light.readOn === undefined ? light : { ...light, readOn: dayAfter(light.readOn, by) },
  }));
}

/** The same time of the day as it is written, so many days later, in the clinic's zone. */
function movedBy(days: number, iso: string, times: Times): string {
  const time = iso.slice('yyyy-mm-ddT'.length, 'yyyy-mm-ddThh:mm'.length);
  return times.isoOf({ date: dayAfter(dayOf(iso), days), time });
}

const stockSchema = v.object({
  materials: v.array(
    v.object({
      id: v.string(),
      materialClass: v.string(),
      label: v.string(),
      lot: v.string(),
      expiryInDays: v.number(),
      openedDaysAgo: v.optional(v.number()),
      useWithinDays: v.optional(v.number()),
      refrigerated: v.boolean(),
      warmUpMinutes: v.optional(v.number()),
    }),
  ),
});

/** The invented lots as the stock keeps them; none when the file is something else. */
export function demoStock(value: unknown, { nowMs, times }: FirstStart): readonly Material[] {
  const today = times.isoDay(nowMs);
  const read = v.safeParse(stockSchema, value);
  if (!read.success) return [];
  return read.output.materials.map(
    ({ expiryInDays, openedDaysAgo, useWithinDays, warmUpMinutes, ...kept }) => ({
      ...kept,
      expiry: dayAfter(today, expiryInDays),
      ...(openedDaysAgo === undefined ? {} : { openedOn: dayAfter(today, -openedDaysAgo) }),
      ...(useWithinDays === undefined ? {} : { useWithinDays }),
      ...(warmUpMinutes === undefined ? {} : { warmUpMinutes }),
    }),
  );
}
