/**
 * The invented cases and lots that a fresh tablet begins with, dated from the day of its first
 * start: nothing of them is overdue or expired on that day, whenever it is.
 */
import * as v from 'valibot';
import type { CaseFile } from '../../protocol/types.ts';
import { dateAndTime, dayAfter, daysBetweenDays, isoOf } from '../../words/date-words.ts';
import type { Material } from '../stock/stock-types.ts';

/** The first appointment of the demonstration is on the day after the first start. */
const FIRST_IN_DAYS = 1;

const dayOf = (iso: string): string => iso.slice(0, 'yyyy-mm-dd'.length);

/**
 * Moves every day of the cases by as many days as bring the first appointment to tomorrow; the time
 * of the day stays.
 *
 * @param today ISO 8601 day of the first start, in the clinic's zone.
 */
export function datedFrom(
  specs: readonly CaseFile[],
  o: { readonly today: string; readonly zone: string },
): readonly CaseFile[] {
  const days = specs.flatMap(({ scheduledFor }) => (scheduledFor ? [dayOf(scheduledFor)] : []));
  const first = days.toSorted()[0];
  if (first === undefined) return specs;
  const by = daysBetweenDays(first, o.today) + FIRST_IN_DAYS;
  const moved = (day: string): string => dayAfter(day, by);
  return specs.map((spec) => {
    const { scheduledFor, light } = spec;
    const time = scheduledFor?.slice('yyyy-mm-ddT'.length, 'yyyy-mm-ddThh:mm'.length) ?? '';
    return {
      ...spec,
      ...(scheduledFor === undefined
        ? {}
        : { scheduledFor: isoOf({ date: moved(dayOf(scheduledFor)), time }, o.zone) }),
      light: light.readOn === undefined ? light : { ...light, readOn: moved(light.readOn) },
    };
  });
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
export function demoStock(value: unknown, o: { readonly today: string }): readonly Material[] {
  const read = v.safeParse(stockSchema, value);
  if (!read.success) return [];
  return read.output.materials.map(
    ({ expiryInDays, openedDaysAgo, useWithinDays, warmUpMinutes, ...kept }) => ({
      ...kept,
      expiry: dayAfter(o.today, expiryInDays),
      ...(openedDaysAgo === undefined ? {} : { openedOn: dayAfter(o.today, -openedDaysAgo) }),
      ...(useWithinDays === undefined ? {} : { useWithinDays }),
      ...(warmUpMinutes === undefined ? {} : { warmUpMinutes }),
    }),
  );
}
