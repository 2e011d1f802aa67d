/** Words for what must be out of the refrigerator, and by when. */

import { formatWords, formatWordsInterval } from './duration.ts';

const MINUTE_MS = 60_000;

/** Whole minutes: nobody runs to a refrigerator by the second. */
const minutes = (ms: number): string => formatWords(Math.floor(ms / MINUTE_MS) * MINUTE_MS);

export const dueWords = {
  title: 'Due and late',
  /** `at` is "today 08:00", as it stands in a line. */
  outBy: (o: { readonly material: string; readonly at: string }): string =>
    `${o.material} out by ${o.at}`,
  warming: (material: string): string => `${material} is out`,
  appointment: (at: string): string => `Appointment ${at}`,
  holdUntil: (at: string): string => `Contacts stay closed until ${at}`,
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
