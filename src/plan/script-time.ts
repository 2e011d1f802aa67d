/**
 * Times as people write them in a script: `1:20`, `1:02:03`, `80 s`, `1.5 min`, `500 ms`, or a
 * number of milliseconds. Results are whole milliseconds.
 */
import { MS_PER_HOUR, MS_PER_MINUTE, MS_PER_SECOND } from '../base/units.ts';

const UNIT_MS: Readonly<Record<string, number>> = {
  ms: 1,
  s: MS_PER_SECOND,
  min: MS_PER_MINUTE,
  h: MS_PER_HOUR,
};

/** What a script may say for a time; the published schema uses the same pattern. */
export const TIME_PATTERN =
  /^(([0-9]{1,3}:)?[0-9]{1,3}:[0-5][0-9](\.[0-9]{1,3})?|[0-9]{1,9}(\.[0-9]{1,3})? ?(ms|s|min|h))$/;

/** The same with a sign, for corrections and moved clocks. */
export const SIGNED_TIME_PATTERN =
  /^[+-]?(([0-9]{1,3}:)?[0-9]{1,3}:[0-5][0-9](\.[0-9]{1,3})?|[0-9]{1,9}(\.[0-9]{1,3})? ?(ms|s|min|h))$/;

/** Reads a time that one of the patterns above has let through. */
export function scriptMs(time: string | number): number {
  if (typeof time === 'number') return time;
  const sign = time.startsWith('-') ? -1 : 1;
  const text = time.replace(/^[+-]/, '');
  if (text.includes(':')) {
    const parts = text.split(':').map(Number);
    return sign * Math.round(parts.reduce((sum, part) => sum * 60 + part, 0) * MS_PER_SECOND);
  }
  const unit = text.replace(/^[0-9.]+ ?/, '');
  return sign * Math.round(Number.parseFloat(text) * (UNIT_MS[unit] ?? Number.NaN));
}

/** `0:05`, `41:20`, `1:02:03`; tenths only when there are any: `0:05.3`. */
export function clockText(ms: number): string {
  const sign = ms < 0 ? '-' : '';
  const rest = Math.abs(Math.round(ms));
  const hours = Math.floor(rest / MS_PER_HOUR);
  const minutes = Math.floor((rest % MS_PER_HOUR) / MS_PER_MINUTE);
  const seconds = Math.floor((rest % MS_PER_MINUTE) / MS_PER_SECOND);
  const millis = rest % MS_PER_SECOND;
  const two = (n: number): string => String(n).padStart(2, '0');
  const head = hours > 0 ? `${hours}:${two(minutes)}` : String(minutes);
  const tail = millis === 0 ? '' : `.${String(millis).padStart(3, '0').replace(/0+$/, '')}`;
  return `${sign}${head}:${two(seconds)}${tail}`;
}
