/**
 * Local time in a zone that is named: never the tablet's own, which may stand in another. Instants
 * are ms since 1970; zones are names of the IANA time zone database, by the rules that this engine
 * carries; offsets are minutes east of UTC.
 *
 * Only the offset is asked of the library: its dates with a zone answer for the hour that comes twice
 * by the zone of the device, and its scan for changes looks at whole hours only.
 */
import { tzOffset } from '@date-fns/tz/tzOffset';
import { parseISO } from 'date-fns';
import { MS_PER_DAY, MS_PER_MINUTE } from '../base/units.ts';

/** `Europe/Lisbon` */
export type ZoneName = string;

/** The zone of a case that names none, where no clinic is known either. */
export const UTC_ZONE: ZoneName = 'UTC';

/** The last millisecond that a date can name (ECMA-262, time values), less a day for any offset. */
const HELD_MS_MAX = 8.64e15 - MS_PER_DAY;
/** Offsets differ from the ones before and after by less than this: no zone is changed twice in it. */
const WEEK_MS = 7 * MS_PER_DAY;

/** Whether this engine knows the rules of a zone of this name. An offset alone is no name. */
export function isZone(name: string): boolean {
  if (!/^[A-Z]/i.test(name)) return false;
  try {
    return new Intl.DateTimeFormat('en', { timeZone: name }) instanceof Intl.DateTimeFormat;
  } catch {
    return false;
  }
}

/** Whether two names are one zone: some have an older name beside the present one. */
export function isSameZone(one: string, other: string): boolean {
  const present = (name: string): string =>
    isZone(name)
      ? new Intl.DateTimeFormat('en', { timeZone: name }).resolvedOptions().timeZone
      : name;
  return one === other || present(one) === present(other);
}

const held = (ms: number): number => Math.min(HELD_MS_MAX, Math.max(-HELD_MS_MAX, Math.trunc(ms)));

/** Minutes east of UTC; the seconds of a time before there were zones are left out. */
export function offsetAt(ms: number, zone: ZoneName): number {
  return Math.trunc(tzOffset(zone, new Date(held(ms))));
}

/** `+05:45`, `-03:30`, `+00:00`. */
export function offsetText(minutes: number): string {
  const all = Math.abs(minutes);
  const two = (n: number): string => String(n).padStart(2, '0');
  return `${minutes < 0 ? '-' : '+'}${two(Math.floor(all / 60))}:${two(all % 60)}`;
}

/** What the clock and the calendar on the wall show: `2026-11-28T09:05:07.000`. */
export function localText(ms: number, zone: ZoneName): string {
  return new Date(held(ms) + offsetAt(ms, zone) * MS_PER_MINUTE).toISOString().slice(0, -1);
}

/** ISO 8601 with the offset, `2026-11-28T09:05:07+00:00`; milliseconds only when there are any. */
export function zonedIso(ms: number, zone: ZoneName): string {
  return `${localText(ms, zone).replace(/\.000$/, '')}${offsetText(offsetAt(ms, zone))}`;
}

/** The day on the calendar there: `2026-11-28`. */
export function dayIn(ms: number, zone: ZoneName): string {
  return localText(ms, zone).replace(/T.*$/, '');
}

/**
 * The instant of a local time without an offset, `2026-11-28T09:05` or a day alone; null when it is
 * none. A time that comes twice is the first; one that does not come is read with the offset before
 * the gap (RFC 5545, section 3.3.5).
 */
export function instantIn(local: string, zone: ZoneName): number | null {
  const asUtcMs = parseISO(local.includes('T') ? `${local}Z` : `${local}T00:00Z`).getTime();
  if (Number.isNaN(asUtcMs)) return null;
  const instantWith = (offset: number): number => asUtcMs - offset * MS_PER_MINUTE;
  const before = offsetAt(asUtcMs - MS_PER_DAY, zone);
  const after = offsetAt(asUtcMs + MS_PER_DAY, zone);
  const fits = (offset: number): boolean => offsetAt(instantWith(offset), zone) === offset;
  return fits(before) || !fits(after) ? instantWith(before) : instantWith(after);
}

interface ZoneChange {
  /** The first instant with the new offset. */
  readonly atMs: number;
  readonly before: number;
  readonly after: number;
}

/** The instants at which the clocks of a zone are changed, after `fromMs` and up to `toMs`. */
export function zoneChanges(
  zone: ZoneName,
  { fromMs, toMs }: { readonly fromMs: number; readonly toMs: number },
): readonly ZoneChange[] {
  const changes: ZoneChange[] = [];
  for (let startMs = fromMs; startMs < toMs; startMs += WEEK_MS) {
    const before = offsetAt(startMs, zone);
    let lo = startMs;
    let hi = Math.min(toMs, startMs + WEEK_MS);
    const after = offsetAt(hi, zone);
    if (after === before) continue;
    while (hi - lo > 1) {
      const mid = lo + Math.floor((hi - lo) / 2);
      if (offsetAt(mid, zone) === before) lo = mid;
      else hi = mid;
    }
    changes.push({ atMs: hi, before, after });
  }
  return changes;
}
