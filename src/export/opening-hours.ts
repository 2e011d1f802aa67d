/**
 * When a clinic is open, by weekday, as people write it (`08:00-12:30, 14:00-18:00`), and the times in
 * it at which a visit can be. Hours are local, in minutes from midnight; instants in ms since 1970. Days
 * are those of the calendar of the zone; Monday is the first of a week (ISO 8601).
 */
import { MS_PER_DAY, MS_PER_MINUTE } from '../base/units.ts';
import { dayIn, instantIn, type ZoneName } from '../words/zone.ts';

const DAYS_PER_WEEK = 7;
const MINUTES_PER_HOUR = 60;
const MINUTES_PER_DAY = 24 * MINUTES_PER_HOUR;

interface OpenSpan {
  readonly fromMinutes: number;
  readonly toMinutes: number;
}

/** Seven days, Monday first; a day without spans is closed. */
export type OpeningHours = readonly (readonly OpenSpan[])[];

const CLOCK = String.raw`(\d{1,2})(?:[:.](\d{2}))?`;
const SPAN = new RegExp(String.raw`^${CLOCK}\s*[-–—]\s*${CLOCK}$`);

/** Null for what no clock shows; 24:00 is the end of a day. */
function minutesOf(hours: string | undefined, minutes: string | undefined): number | null {
  const all = Number(hours) * MINUTES_PER_HOUR + Number(minutes ?? 0);
  return Number(minutes ?? 0) < MINUTES_PER_HOUR && all <= MINUTES_PER_DAY ? all : null;
}

function spanOf(text: string): OpenSpan | null {
  const [, h1, m1, h2, m2] = SPAN.exec(text) ?? [];
  if (h1 === undefined) return null;
  const fromMinutes = minutesOf(h1, m1);
  const toMinutes = minutesOf(h2, m2);
  if (fromMinutes === null || toMinutes === null || fromMinutes >= toMinutes) return null;
  return { fromMinutes, toMinutes };
}

/** The hours of one day; none for an empty text, null where it cannot be read or the spans overlap. */
export function dayHours(text: string): readonly OpenSpan[] | null {
  const parts = text
    .split(/[,;]/)
    .map((part) => part.trim())
    .filter((part) => part !== '');
  const spans = parts.map(spanOf);
  const known = spans.filter((span) => span !== null);
  if (known.length < spans.length) return null;
  const isInOrder = known.every(
    (s, i) => i === 0 || s.fromMinutes >= (known[i - 1]?.toMinutes ?? 0),
  );
  return isInOrder ? known : null;
}

/** The hours of a week; null while no day has any. A day that cannot be read counts as closed. */
export function openingHours(days: readonly string[]): OpeningHours | null {
  const week = Array.from({ length: DAYS_PER_WEEK }, (_, i) => dayHours(days[i] ?? '') ?? []);
  return week.every((spans) => spans.length === 0) ? null : week;
}

/** 0 for Monday. */
function weekday(day: string): number {
  const sundayFirst = new Date(`${day}T00:00Z`).getUTCDay();
  return (sundayFirst + DAYS_PER_WEEK - 1) % DAYS_PER_WEEK;
}

const dayAfter = (day: string, days: number): string =>
  new Date(Date.parse(`${day}T00:00Z`) + days * MS_PER_DAY).toISOString().replace(/T.*$/, '');

interface OpenTime {
  readonly startMs: number;
  readonly endMs: number;
}

/** The opening times of one day as instants; a local time that does not come is moved as clocks are. */
function openOn(hours: OpeningHours, day: string, zone: ZoneName): readonly OpenTime[] {
  const midnightMs = Date.parse(`${day}T00:00Z`);
  const at = (minutes: number): number | null =>
    instantIn(new Date(midnightMs + minutes * MS_PER_MINUTE).toISOString().slice(0, -1), zone);
  return (hours[weekday(day)] ?? []).flatMap(({ fromMinutes, toMinutes }) => {
    const [startMs, endMs] = [at(fromMinutes), at(toMinutes)];
    return startMs === null || endMs === null ? [] : [{ startMs, endMs }];
  });
}

/** A clinic that is closed for longer has no hours that a visit could be offered in. */
const LOOKED_AT_DAYS = 14;
const QUARTER_MS = 15 * MS_PER_MINUTE;

const upToQuarter = (ms: number): number => Math.ceil(ms / QUARTER_MS) * QUARTER_MS;
const downToQuarter = (ms: number): number => Math.floor(ms / QUARTER_MS) * QUARTER_MS;

interface Wish {
  readonly hours: OpeningHours | null;
  readonly zone: ZoneName;
  readonly lengthMs: number;
}

/**
 * The first start at a quarter of an hour, not before `notBeforeMs`, of a visit that ends within the
 * hours; without hours, or where none of two weeks are long enough, the next quarter of an hour.
 */
export function firstOpenStart(notBeforeMs: number, { hours, zone, lengthMs }: Wish): number {
  const nextMs = upToQuarter(notBeforeMs);
  if (hours === null) return nextMs;
  const today = dayIn(nextMs, zone);
  for (let days = 0; days <= LOOKED_AT_DAYS; days += 1) {
    for (const { startMs, endMs } of openOn(hours, dayAfter(today, days), zone)) {
      const firstMs = Math.max(upToQuarter(startMs), nextMs);
      if (firstMs + lengthMs <= endMs) return firstMs;
    }
  }
  return nextMs;
}

/** The last such start that is not after `notAfterMs`; without one, that instant itself. */
export function lastOpenStart(notAfterMs: number, { hours, zone, lengthMs }: Wish): number {
  if (hours === null) return notAfterMs;
  const today = dayIn(notAfterMs, zone);
  for (let days = 0; days <= LOOKED_AT_DAYS; days += 1) {
    for (const { startMs, endMs } of openOn(hours, dayAfter(today, -days), zone).toReversed()) {
      // Somebody who is there anyway need not wait for a quarter of an hour.
      const lastMs = notAfterMs + lengthMs <= endMs ? notAfterMs : downToQuarter(endMs - lengthMs);
      if (lastMs <= notAfterMs && lastMs >= startMs) return lastMs;
    }
  }
  return notAfterMs;
}
