/**
 * Appointments as an iCalendar object (RFC 5545): local times with the rules of their zone, so that an
 * appointment stays at its hour when a country changes its clocks; CRLF, lines folded at 75 octets,
 * reminders as VALARM. For the days around a case only; a running clock never hangs on a calendar.
 * All instants in milliseconds since 1970-01-01T00:00:00Z.
 */
import { utf8ToBytes } from '@noble/hashes/utils.js';
import { assert } from '../base/assert.ts';
import { MS_PER_DAY, MS_PER_MINUTE, MS_PER_SECOND } from '../base/units.ts';
import {
  localText,
  offsetAt,
  offsetText,
  UTC_ZONE,
  type ZoneName,
  zoneChanges,
} from '../words/zone.ts';
import { utc } from './utc.ts';

/** A reminder: before the start of its event, or at an instant of its own. */
interface CalendarAlarm {
  readonly when: { readonly beforeMs: number } | { readonly atMs: number };
  /** What is shown. */
  readonly words: string;
  /** Rings so many times more, this far apart. */
  readonly again?: { readonly times: number; readonly everyMs: number };
}

export interface CalendarEvent {
  /** Unique for good; the same event exported again replaces itself. */
  readonly uid: string;
  readonly title: string;
  readonly words: string;
  readonly startMs: number;
  readonly endMs: number;
  readonly alarms: readonly CalendarAlarm[];
}

const PRODUCT = '-//Lutewatch//Record//EN';
const FOLD_OCTETS = 75;

/** Octets of one character in UTF-8. */
function octetsOf(character: string): number {
  return utf8ToBytes(character).length;
}

/** `19970714T170000`; calendars know whole seconds only. */
const dateTimeOf = (iso: string): string => iso.slice(0, 19).replaceAll(/[-:]/g, '');

/** `19970714T170000Z` */
const dateTime = (ms: number): string => `${dateTimeOf(utc(ms))}Z`;

/** A moment of an event: `DTSTART;TZID=Europe/Lisbon:20261127T090000`, in UTC `DTSTART:…Z`. */
function moment(name: string, ms: number, zone: ZoneName): string {
  return zone === UTC_ZONE
    ? `${name}:${dateTime(ms)}`
    : `${name};TZID=${zone}:${dateTimeOf(localText(ms, zone))}`;
}

/** Section 3.3.11; control characters have no place in text. */
function escaped(words: string): string {
  return (
    words
      .replaceAll(/\r\n|\r/g, '\n')
      .replaceAll(/[\\;,]/g, '\\$&')
      .replaceAll('\n', '\\n')
      // biome-ignore lint/suspicious/noControlCharactersInRegex: RFC 5545 forbids these in TEXT.
      .replaceAll(/[\u0000-\u0008\u000b-\u001f\u007f]/g, ' ')
  );
}

/** Section 3.3.6, in whole seconds: `PT90S`, `-PT1800S`. */
function duration(ms: number): string {
  const seconds = Math.round(ms / MS_PER_SECOND);
  return seconds < 0 ? `-PT${-seconds}S` : `PT${seconds}S`;
}

/** Section 3.1: no line longer than 75 octets, and no character torn in two. */
function folded(line: string): string {
  const lines: string[] = [];
  let held = '';
  let octets = 0;
  for (const character of line) {
    const size = octetsOf(character);
    if (octets + size > FOLD_OCTETS) {
      lines.push(held);
      held = ' ';
      octets = 1;
    }
    held += character;
    octets += size;
  }
  return [...lines, held].join('\r\n');
}

function alarmLines({ when, words, again }: CalendarAlarm): string[] {
  const trigger =
    'atMs' in when
      ? `TRIGGER;VALUE=DATE-TIME:${dateTime(when.atMs)}`
      : `TRIGGER:${duration(-when.beforeMs)}`;
  const repeat = again ? [`REPEAT:${again.times}`, `DURATION:${duration(again.everyMs)}`] : [];
  return [
    'BEGIN:VALARM',
    'ACTION:DISPLAY',
    trigger,
    ...repeat,
    `DESCRIPTION:${escaped(words)}`,
    'END:VALARM',
  ];
}

interface CalendarOptions {
  /** When the calendar was made (DTSTAMP): an argument, so that the same events give the same text. */
  readonly stampedAtMs: number;
  /** In which its events are written; UTC when left out. */
  readonly zone?: ZoneName;
}

function eventLines(event: CalendarEvent, { stampedAtMs, zone = UTC_ZONE }: CalendarOptions) {
  const { uid, title, words, startMs, endMs, alarms } = event;
  assert(endMs >= startMs, `event ${uid} ends after it starts`);
  return [
    'BEGIN:VEVENT',
    `UID:${escaped(uid)}`,
    `DTSTAMP:${dateTime(stampedAtMs)}`,
    moment('DTSTART', startMs, zone),
    moment('DTEND', endMs, zone),
    `SUMMARY:${escaped(title)}`,
    ...(words === '' ? [] : [`DESCRIPTION:${escaped(words)}`]),
    ...alarms.flatMap(alarmLines),
    'END:VEVENT',
  ];
}

/** Offsets of this long ago hold where the clocks were not changed since. */
const LOOK_BACK_MS = 400 * MS_PER_DAY;

/** One part of section 3.6.5: from its onset, told by the clock before it, an offset holds. */
function ruleLines(rule: {
  readonly onset: string;
  readonly before: number;
  readonly after: number;
}): string[] {
  const { onset, before, after } = rule;
  // Which of the two is daylight saving time no clock says: the later clock is called so.
  const kind = after > before ? 'DAYLIGHT' : 'STANDARD';
  const offset = (minutes: number): string => offsetText(minutes).replace(':', '');
  return [
    `BEGIN:${kind}`,
    `DTSTART:${onset}`,
    `TZOFFSETFROM:${offset(before)}`,
    `TZOFFSETTO:${offset(after)}`,
    `END:${kind}`,
  ];
}

/** The rules of a zone from before the first event to after the last, each change on its own. */
function zoneLines(zone: ZoneName, events: readonly CalendarEvent[]): string[] {
  const [first] = events;
  if (zone === UTC_ZONE || first === undefined) return [];
  const fromMs = Math.min(...events.map((e) => e.startMs)) - LOOK_BACK_MS;
  const toMs = Math.max(...events.map((e) => e.endMs)) + MS_PER_DAY;
  const always = offsetAt(fromMs, zone);
  const changes = zoneChanges(zone, { fromMs, toMs });
  return [
    'BEGIN:VTIMEZONE',
    `TZID:${zone}`,
    ...ruleLines({ onset: dateTimeOf(localText(fromMs, zone)), before: always, after: always }),
    ...changes.flatMap(({ atMs, before, after }) => {
      const onset = dateTimeOf(utc(atMs + before * MS_PER_MINUTE));
      return ruleLines({ onset, before, after });
    }),
    'END:VTIMEZONE',
  ];
}

/** One calendar with these events. */
export function calendarText(events: readonly CalendarEvent[], options: CalendarOptions): string {
  const lines = [
    'BEGIN:VCALENDAR',
    'VERSION:2.0',
    `PRODID:${PRODUCT}`,
    'CALSCALE:GREGORIAN',
    'METHOD:PUBLISH',
    ...zoneLines(options.zone ?? UTC_ZONE, events),
    ...events.flatMap((event) => eventLines(event, options)),
    'END:VCALENDAR',
  ];
  return lines.map((line) => `${folded(line)}\r\n`).join('');
}
