/**
 * How lengths of time are written on the screen. Input is always milliseconds; output is text with
 * the unit written out or with the colon form. Pure: nothing here knows what time it is.
 *
 * Unit symbols (h, min, s) and the space before them follow the SI Brochure, 9th edition (2019),
 * table 8 and section 5.4.3. The minus sign is U+2212, the interval dash U+2013.
 */
import { assert } from '../base/assert.ts';
import { lengths } from './en/lengths.ts';
import { spoken } from './language.ts';

const lengthWords = spoken('lengths', lengths);

const MINUS = '\u2212';
const EN_DASH = '\u2013';
const NO_BREAK = '\u00a0';
const MS_IN_SECOND = 1000;
const SECONDS_IN_MINUTE = 60;
const SECONDS_IN_HOUR = 3600;
const HOURS_IN_DAY = 24;
const HOURS_SHOWN_AS_HOURS_MAX = 48;

/** Whether a started second counts: `up` for what is left, `down` for what has passed. */
type SecondRounding = 'up' | 'down';

/**
 * Whole seconds in a duration. What is left is rounded up and what has passed is rounded down, so
 * that both figures change in the same instant and "0:00" appears when the moment is reached.
 */
export function wholeSeconds(durationMs: number, rounding: SecondRounding): number {
  assert(Number.isFinite(durationMs), `durationMs: expected a finite number, got ${durationMs}`);
  const seconds = durationMs / MS_IN_SECOND;
  // Adding zero turns minus zero into zero, which would otherwise print a sign.
  return (rounding === 'up' ? Math.ceil(seconds) : Math.floor(seconds)) + 0;
}

function colonForm(secondsTotal: number): string {
  const hours = Math.floor(secondsTotal / SECONDS_IN_HOUR);
  const minutes = Math.floor((secondsTotal % SECONDS_IN_HOUR) / SECONDS_IN_MINUTE);
  const seconds = String(secondsTotal % SECONDS_IN_MINUTE).padStart(2, '0');
  if (hours === 0) return `${minutes}:${seconds}`;
  return `${hours}:${String(minutes).padStart(2, '0')}:${seconds}`;
}

/** `0:07`, `2:05`, `23:59:12`. A negative duration gets a minus sign in front. */
export function formatClock(durationMs: number, rounding: SecondRounding = 'down'): string {
  const seconds = wholeSeconds(durationMs, rounding);
  return seconds < 0 ? `${MINUS}${colonForm(-seconds)}` : colonForm(seconds);
}

/** Time past a bound, started seconds included, as everything beside it counts: `+0:12`; on it, `0:00`. */
export function formatOver(overMs: number): string {
  const seconds = Math.max(0, wholeSeconds(overMs, 'up'));
  return seconds === 0 ? '0:00' : `+${colonForm(seconds)}`;
}

/** A length of time known as an interval; its upper end is null or infinite when nobody knows it. */
interface Interval {
  readonly loMs: number;
  readonly hiMs: number | null;
  readonly rounding?: SecondRounding;
}

/** The same where the upper end is known. */
type Known = Interval & { readonly hiMs: number };

/** True when nobody knows the upper end. */
const isOpenEnded = (hiMs: number | null): hiMs is null =>
  hiMs === null || hiMs === Number.POSITIVE_INFINITY;

/** `0:42–1:10`; one figure when both ends read the same; `0:42–?` without an upper end. */
export function formatClockInterval({ loMs, hiMs, rounding = 'down' }: Interval): string {
  const lo = formatClock(loMs, rounding);
  if (isOpenEnded(hiMs)) return `${lo}${EN_DASH}?`;
  const hi = formatClock(hiMs, rounding);
  return lo === hi ? lo : `${lo}${EN_DASH}${hi}`;
}

function joinParts(parts: readonly (readonly [number, string])[]): string {
  const kept = parts.filter(([amount]) => amount !== 0);
  const shown = kept.length > 0 ? kept : parts.slice(-1);
  return shown.map(([amount, unit]) => `${amount}${NO_BREAK}${unit}`).join(' ');
}

function wordParts(secondsTotal: number): string {
  const hoursTotal = Math.floor(secondsTotal / SECONDS_IN_HOUR);
  const minutes = Math.floor((secondsTotal % SECONDS_IN_HOUR) / SECONDS_IN_MINUTE);
  const seconds = secondsTotal % SECONDS_IN_MINUTE;
  if (hoursTotal > HOURS_SHOWN_AS_HOURS_MAX) {
    return joinParts([
      [Math.floor(hoursTotal / HOURS_IN_DAY), 'd'],
      [hoursTotal % HOURS_IN_DAY, 'h'],
    ]);
  }
  if (hoursTotal > 0) {
    return joinParts([
      [hoursTotal, 'h'],
      [minutes, 'min'],
      [seconds, 's'],
    ]);
  }
  return joinParts([
    [minutes, 'min'],
    [seconds, 's'],
  ]);
}

/** `5 s`, `2 min 5 s`, `24 h`, `3 d 4 h`. Negative durations get a minus sign. */
export function formatWords(durationMs: number, rounding: SecondRounding = 'down'): string {
  const seconds = wholeSeconds(durationMs, rounding);
  return seconds < 0 ? `${MINUS}${wordParts(-seconds)}` : wordParts(seconds);
}

/** `42 s to 1 min 10 s`; one figure when both ends read the same; `at least 42 s` without an end. */
export function formatWordsInterval({ loMs, hiMs, rounding = 'down' }: Interval): string {
  const lo = formatWords(loMs, rounding);
  if (isOpenEnded(hiMs)) return lengthWords.atLeast(lo);
  const hi = formatWords(hiMs, rounding);
  return lo === hi ? lo : lengthWords.interval({ lo, hi });
}

/** A difference in whole seconds with its sign: `+6 s`, `−3 s`, `0 s`. Rounds towards zero. */
export function formatSignedSeconds(differenceMs: number): string {
  assert(Number.isFinite(differenceMs), `differenceMs: expected a finite number`);
  const seconds = Math.trunc(differenceMs / MS_IN_SECOND);
  if (seconds === 0) return `0${NO_BREAK}s`;
  return `${seconds > 0 ? '+' : MINUS}${Math.abs(seconds)}${NO_BREAK}s`;
}

/** `5 s to 18 s`, or one figure where both ends read the same. */
export function formatSecondsInterval({ loMs, hiMs, rounding = 'down' }: Known): string {
  const [lo, hi] = [formatSeconds(loMs, rounding), formatSeconds(hiMs, rounding)];
  return lo === hi ? lo : lengthWords.interval({ lo, hi });
}

/** Plain seconds for small spans that people speak of in seconds: `8 s`, `75 s`. */
export function formatSeconds(durationMs: number, rounding: SecondRounding = 'down'): string {
  return `${wholeSeconds(durationMs, rounding)}${NO_BREAK}s`;
}
