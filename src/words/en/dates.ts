/** How moments are written. */
import type { DateParts } from '../date-parts.ts';

const date = (d: DateParts): string => `${d.day} ${d.month} ${d.year}`;
const time = (d: DateParts): string => `${d.hour}:${d.minute}`;

export const dates = {
  date,
  time,
  second: (d: DateParts): string => `${d.hour}:${d.minute}:${d.second}`,
  day: (d: DateParts): string => `${d.weekday} ${d.day} ${d.month} ${d.year}`,
  dayAndMonth: (d: DateParts): string => `${d.day} ${d.month}`,
  moment: (d: DateParts): string => `${date(d)}, ${time(d)}`,
  momentToTheSecond: (d: DateParts): string => `${date(d)}, ${time(d)}:${d.second}`,
  /** A moment that may be read anywhere: "28 Nov 2026, 16:30 (Europe/Lisbon)". */
  momentAndZone: (o: { readonly moment: string; readonly zone: string }): string =>
    `${o.moment} (${o.zone})`,
  /** Where the clocks of the zone have been changed since: "25 Oct 2026, 01:00:18 (UTC+00:00)". */
  withOffset: (o: { readonly moment: string; readonly offset: string }): string =>
    `${o.moment} (UTC${o.offset})`,
  /** A moment that stands by itself: in a row, under a heading. */
  today: (d: DateParts): string => `Today ${time(d)}`,
  tomorrow: (d: DateParts): string => `Tomorrow ${time(d)}`,
  otherDay: (d: DateParts): string => `${d.weekday} ${d.day} ${d.month}, ${time(d)}`,
  /** The same inside a sentence: "Started today 09:00". */
  todayInLine: (d: DateParts): string => `today ${time(d)}`,
  tomorrowInLine: (d: DateParts): string => `tomorrow ${time(d)}`,
};
