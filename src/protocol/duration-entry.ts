/**
 * Lengths of time as people type them. Output: whole milliseconds. Accepted: `20`, `20 s`, `90 sec`,
 * `1:30`, `1:02:03`, `1.5 min`, `1,5 min`, `2 min 30 s`, `24 h`, `1 d`. A bare number is seconds,
 * because that is how the trade speaks of times in the chair.
 */

import { err, ok, type Result } from '../base/result.ts';
import { MS_PER_HOUR, MS_PER_MINUTE, MS_PER_SECOND } from '../base/units.ts';
import { DURATION_MS_MAX } from './schema-parts.ts';

export type DurationRefusal = 'empty' | 'not-a-duration' | 'not-above-zero' | 'too-long';

const MS_PER_DAY = 24 * MS_PER_HOUR;

const UNITS: readonly (readonly [RegExp, number])[] = [
  [/^(s|sec|secs|second|seconds|″|")$/, MS_PER_SECOND],
  [/^(min|mins|minute|minutes|m|′|')$/, MS_PER_MINUTE],
  [/^(h|hr|hrs|hour|hours)$/, MS_PER_HOUR],
  [/^(d|day|days)$/, MS_PER_DAY],
  [/^ms$/, 1],
];

const COLONS = /^(?:(\d{1,3}):)?(\d{1,3}):([0-5]\d)$/;
const PIECE = /\s*(\d+(?:[.,]\d+)?)\s*([a-z″"′']*)/y;

function fromColons(text: string): number | null {
  const match = COLONS.exec(text);
  if (match === null) return null;
  const [, hours, minutes = '0', seconds = '0'] = match;
  if (hours !== undefined && Number(minutes) > 59) return null;
  return (
    Number(hours ?? 0) * MS_PER_HOUR +
    Number(minutes) * MS_PER_MINUTE +
    Number(seconds) * MS_PER_SECOND
  );
}

/** `2 min 30 s`: pieces from the large unit to the small one, each unit once. */
function fromPieces(text: string): number | null {
  let ms = 0;
  let lastUnitMs = Number.POSITIVE_INFINITY;
  PIECE.lastIndex = 0;
  for (let at = 0; at < text.length; at = PIECE.lastIndex) {
    const match = PIECE.exec(text);
    if (match === null) return null;
    const [, figure = '', word = ''] = match;
    // Only a number that stands alone may go without its unit.
    const isBare = word === '' && at === 0 && PIECE.lastIndex >= text.length;
    const unitMs = isBare ? MS_PER_SECOND : UNITS.find(([pattern]) => pattern.test(word))?.[1];
    if (unitMs === undefined || unitMs >= lastUnitMs) return null;
    lastUnitMs = unitMs;
    ms += Number(figure.replace(',', '.')) * unitMs;
  }
  return ms;
}

/** Reads one entry. Errors: why it is no length of time that a protocol can hold. */
export function readDuration(entry: string): Result<number, DurationRefusal> {
  const text = entry.replaceAll('\u00a0', ' ').trim().toLowerCase();
  if (text === '') return err('empty');
  if (text.length > 40) return err('not-a-duration');
  const exactMs = fromColons(text) ?? fromPieces(text);
  if (exactMs === null) return err('not-a-duration');
  const ms = Math.round(exactMs);
  if (ms < 1) return err('not-above-zero');
  return ms > DURATION_MS_MAX ? err('too-long') : ok(ms);
}

/** How a stored length of time is offered for editing, so that it reads back to the same: `90 s`. */
export function entryText(ms: number): string {
  if (ms % MS_PER_SECOND !== 0) return `${ms} ms`;
  if (ms >= MS_PER_DAY && ms % MS_PER_DAY === 0) return `${ms / MS_PER_DAY} d`;
  if (ms >= MS_PER_HOUR && ms % MS_PER_HOUR === 0) return `${ms / MS_PER_HOUR} h`;
  if (ms > 2 * MS_PER_MINUTE && ms % MS_PER_MINUTE === 0) return `${ms / MS_PER_MINUTE} min`;
  return `${ms / MS_PER_SECOND} s`;
}
