/**
 * A number of a sheet as somebody types it. Bare, it is in the unit of its line, as it is printed;
 * a length of time may be typed with another unit, and is turned into that of the line. `18`, `1.5`,
 * `0:18`, `1 min 30 s`.
 */
import { err, ok, type Result } from '../base/result.ts';
import { entryText, readDuration } from './duration-entry.ts';
import { type SheetUnit, UNIT_MS } from './sheet-types.ts';

export type SheetEntryRefusal =
  | 'empty'
  | 'not-a-number'
  | 'not-a-duration'
  | 'not-above-zero'
  | 'not-whole'
  | 'too-large';

/** Beyond these a number was slipped in typing. Design choices, no source. */
const VALUE_MAX: Readonly<Record<SheetUnit, number>> = {
  s: 7200,
  min: 2880,
  h: 720,
  days: 3650,
  months: 120,
  coats: 20,
  'J/cm2': 200,
  'mW/cm2': 10_000,
  C: 60,
};
/** A freezer; a design choice, no source. */
const TEMPERATURE_C_MIN = -40;

const BARE = /^-?\d+(?:[.,]\d+)?$/;

const rounded = (value: number): number => Number(value.toFixed(4));

function exactValue(text: string, unit: SheetUnit): Result<number, SheetEntryRefusal> {
  if (BARE.test(text)) return ok(Number(text.replace(',', '.')));
  const unitMs = UNIT_MS[unit];
  if (unitMs === null) return err('not-a-number');
  const ms = readDuration(text);
  if (ms.ok) return ok(rounded(ms.value / unitMs));
  return err(ms.error === 'too-long' ? 'too-large' : ms.error);
}

/** Reads one entry. Errors: why it is no number that a sheet prints in this unit. */
export function readSheetEntry(entry: string, unit: SheetUnit): Result<number, SheetEntryRefusal> {
  const text = entry.replaceAll('\u00a0', ' ').trim();
  if (text === '') return err('empty');
  const read = exactValue(text, unit);
  if (!read.ok) return read;
  if (unit === 'C') {
    if (read.value < TEMPERATURE_C_MIN || read.value > VALUE_MAX.C) return err('too-large');
    return read;
  }
  if (read.value <= 0) return err('not-above-zero');
  if (read.value > VALUE_MAX[unit]) return err('too-large');
  return unit === 'coats' && !Number.isInteger(read.value) ? err('not-whole') : read;
}

/** What a bare number is understood as, for reading it back: `1.5` in minutes is `90 s`. */
export function understoodDuration(value: number, unit: SheetUnit): string | null {
  const unitMs = UNIT_MS[unit];
  return unitMs === null ? null : entryText(Math.round(value * unitMs));
}

const NUMBERS = /\d+(?:[.,]\d+)?/g;

/**
 * The words of the revision before with the new number in them: a proposal, which somebody compares
 * with the sheet. As they were where the old number does not stand in them exactly once.
 */
export function wordsWith(
  words: string,
  { was, now }: { readonly was: number; readonly now: number },
): string {
  const found = [...words.matchAll(NUMBERS)].filter(
    ([number]) => Number(number.replace(',', '.')) === was,
  );
  const [only] = found;
  if (only === undefined || found.length > 1) return words;
  const [number] = only;
  const text = number.includes(',') ? String(now).replace('.', ',') : String(now);
  return `${words.slice(0, only.index)}${text}${words.slice(only.index + number.length)}`;
}
