/**
 * How instants are written: in the tablet's own time zone, the day in words. Input is the wall
 * clock in ms since 1970, or an ISO 8601 text; nothing here knows what time it is.
 */
import {
  addDays,
  differenceInCalendarDays,
  formatISO,
  isSameDay,
  isValid,
  parseISO,
} from 'date-fns';
import { writeDate } from './written-date.ts';

/** `Thu 26 Nov 2026`. */
export function dayWords(wallMs: number): string {
  return writeDate(wallMs, 'EEE d MMM yyyy');
}

/** `09:00`. */
export function timeWords(wallMs: number): string {
  return writeDate(wallMs, 'HH:mm');
}

/** `09:00:07`. */
export function secondWords(wallMs: number): string {
  return writeDate(wallMs, 'HH:mm:ss');
}

/** `26 Nov 2026, 09:00`. */
export function momentWords(wallMs: number): string {
  return writeDate(wallMs, 'd MMM yyyy, HH:mm');
}

export type DayKind = 'today' | 'tomorrow' | 'past' | 'later';

/** Where a day lies as seen from now. */
export function dayKind(wallMs: number, o: { readonly nowMs: number }): DayKind {
  if (isSameDay(wallMs, o.nowMs)) return 'today';
  if (isSameDay(wallMs, addDays(o.nowMs, 1))) return 'tomorrow';
  return wallMs < o.nowMs ? 'past' : 'later';
}

/** `Today 09:00`, `Tomorrow 14:30`, `Thu 26 Nov, 09:00`. */
export function whenWords(wallMs: number, o: { readonly nowMs: number }): string {
  switch (dayKind(wallMs, o)) {
    case 'today':
      return `Today ${timeWords(wallMs)}`;
    case 'tomorrow':
      return `Tomorrow ${timeWords(wallMs)}`;
    case 'past':
    case 'later':
      return writeDate(wallMs, 'EEE d MMM, HH:mm');
  }
}

/** The same inside a sentence: `today 09:00`. */
export function whenInLine(wallMs: number, o: { readonly nowMs: number }): string {
  const kind = dayKind(wallMs, o);
  const words = whenWords(wallMs, o);
  return kind === 'today' || kind === 'tomorrow'
    ? `${words.charAt(0).toLowerCase()}${words.slice(1)}`
    : words;
}

/** The instant of an ISO 8601 text, or null when it is none. */
export function instantOf(iso: string | undefined): number | null {
  if (iso === undefined) return null;
  const date = parseISO(iso);
  return isValid(date) ? date.getTime() : null;
}

/** An ISO 8601 text cut into what a date field and a time field hold, in the tablet's zone. */
export function dateAndTime(iso: string | undefined): {
  readonly date: string;
  readonly time: string;
} {
  const at = instantOf(iso);
  if (at === null) return { date: '', time: '' };
  return { date: writeDate(at, 'yyyy-MM-dd'), time: writeDate(at, 'HH:mm') };
}

/** The ISO 8601 text, with the tablet's offset, of a date and a time; as typed when they are none. */
export function isoOf(o: { readonly date: string; readonly time: string }): string {
  const typed = `${o.date}T${o.time}`;
  // Half a moment would be read as midnight, or as none; it stays as typed, to be asked for.
  const local = o.date === '' || o.time === '' ? null : parseISO(typed);
  return local !== null && isValid(local) ? formatISO(local) : typed;
}

/** The day, ISO 8601, that lies so many days after another. */
export function dayAfter(isoDay: string, days: number): string {
  return writeDate(addDays(parseISO(isoDay), days), 'yyyy-MM-dd');
}

/** Whole calendar days from a day, ISO 8601, to an instant; negative while the day lies ahead. */
export function daysBetween(isoDay: string, wallMs: number): number {
  return differenceInCalendarDays(wallMs, parseISO(isoDay));
}
