/**
 * Appointments as an iCalendar object (RFC 5545): UTC times, CRLF, lines folded at 75 octets,
 * reminders as VALARM. For the days around a case only; a running clock never hangs on a calendar.
 * All instants in milliseconds since 1970-01-01T00:00:00Z.
 */
import { utf8ToBytes } from '@noble/hashes/utils.js';
import { assert } from '../base/assert.ts';
import { MS_PER_SECOND } from '../base/units.ts';
import { utc } from './utc.ts';

/** A reminder: before the start of its event, or at an instant of its own. */
export interface CalendarAlarm {
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

/** `19970714T170000Z`; calendars know whole seconds only. */
function dateTime(ms: number): string {
  return `${utc(ms).slice(0, 19).replaceAll(/[-:]/g, '')}Z`;
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

function eventLines(event: CalendarEvent, stampedAtMs: number): string[] {
  const { uid, title, words, startMs, endMs, alarms } = event;
  assert(endMs >= startMs, `event ${uid} ends after it starts`);
  return [
    'BEGIN:VEVENT',
    `UID:${escaped(uid)}`,
    `DTSTAMP:${dateTime(stampedAtMs)}`,
    `DTSTART:${dateTime(startMs)}`,
    `DTEND:${dateTime(endMs)}`,
    `SUMMARY:${escaped(title)}`,
    ...(words === '' ? [] : [`DESCRIPTION:${escaped(words)}`]),
    ...alarms.flatMap(alarmLines),
    'END:VEVENT',
  ];
}

/**
 * One calendar with these events.
 * @param options.stampedAtMs when the calendar was made (DTSTAMP); an argument, so that the same
 *   events always give the same text.
 */
export function calendarText(
  events: readonly CalendarEvent[],
  options: { readonly stampedAtMs: number },
): string {
  const lines = [
    'BEGIN:VCALENDAR',
    'VERSION:2.0',
    `PRODID:${PRODUCT}`,
    'CALSCALE:GREGORIAN',
    'METHOD:PUBLISH',
    ...events.flatMap((event) => eventLines(event, options.stampedAtMs)),
    'END:VCALENDAR',
  ];
  return lines.map((line) => `${folded(line)}\r\n`).join('');
}
