/** Words for what must be out of the refrigerator, and by when. */

import { whenInLine } from './date-words.ts';
import { formatWords, formatWordsInterval } from './duration.ts';

const MINUTE_MS = 60_000;

/** Whole minutes: nobody runs to a refrigerator by the second. */
const minutes = (ms: number): string => formatWords(Math.floor(ms / MINUTE_MS) * MINUTE_MS);

export const dueWords = {
  title: 'Due and late',
  outBy: (o: {
    readonly material: string;
    readonly atMs: number;
    readonly nowMs: number;
  }): string => `${o.material} out by ${whenInLine(o.atMs, o)}`,
  warming: (material: string): string => `${material} is out`,
  appointment: (o: { readonly atMs: number; readonly nowMs: number }): string =>
    `Appointment ${whenInLine(o.atMs, o)}`,
  holdUntil: (o: { readonly atMs: number; readonly nowMs: number }): string =>
    `Contacts stay closed until ${whenInLine(o.atMs, o)}`,
  late: (ms: number): string =>
    ms < MINUTE_MS ? 'Late, under a minute' : `Late by ${minutes(ms)}`,
  left: (ms: number): string =>
    ms < MINUTE_MS ? 'Now, under a minute left' : `${minutes(ms)} left`,
  past: (ms: number): string => `${minutes(ms)} ago`,
  elapsed: (o: {
    readonly loMs: number;
    readonly hiMs: number;
    readonly floorMs: number;
  }): string => `Out for ${formatWordsInterval(o)}, at least ${formatWords(o.floorMs)}`,
  calendar: 'Calendar',
  calendarName: (title: string): string => `Calendar of ${title}`,
  calendarKept: 'Handed over as a calendar file.',
  calendarNone: 'Set a date first.',
} as const;
