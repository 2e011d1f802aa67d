/**
 * A product sheet: the figures of one document of instructions that the clinic has in hand, entered
 * once, each in the words and the unit of that document. It names a generic class, never a brand.
 * A line is one number. Where it stands in protocols is kept with it, so that a new revision of the
 * document knows which steps it concerns.
 */
import { MS_PER_HOUR, MS_PER_MINUTE, MS_PER_SECOND } from '../base/units.ts';

/** How instructions group their numbers. */
export const SHEET_GROUPS = [
  'etch',
  'rinse',
  'coats',
  'waiting',
  'working-time',
  'setting-time',
  'light',
  'warm-up',
  'storage',
  'opened-for',
] as const;
export type SheetGroup = (typeof SHEET_GROUPS)[number];

/** Which side of a number the document means. */
export const SHEET_BOUNDS = ['least', 'target', 'most'] as const;
export type SheetBound = (typeof SHEET_BOUNDS)[number];

export const SHEET_UNITS = [
  's',
  'min',
  'h',
  'days',
  'months',
  'coats',
  'J/cm2',
  'mW/cm2',
  'C',
] as const;
export type SheetUnit = (typeof SHEET_UNITS)[number];

const MS_PER_DAY = 24 * MS_PER_HOUR;
/** The shortest that a month of a label can be taken for without going past it, but for February. */
export const DAYS_PER_MONTH = 30;

/** Whole milliseconds of one unit; null where the unit is none of time. */
export const UNIT_MS: Readonly<Record<SheetUnit, number | null>> = {
  s: MS_PER_SECOND,
  min: MS_PER_MINUTE,
  h: MS_PER_HOUR,
  days: MS_PER_DAY,
  months: DAYS_PER_MONTH * MS_PER_DAY,
  coats: null,
  'J/cm2': null,
  'mW/cm2': null,
  C: null,
};

/** The units in which a group is printed; the first is offered first. */
export const GROUP_UNITS: Readonly<Record<SheetGroup, readonly [SheetUnit, ...SheetUnit[]]>> = {
  etch: ['s', 'min'],
  rinse: ['s', 'min'],
  coats: ['coats', 's'],
  waiting: ['s', 'min', 'h'],
  'working-time': ['min', 's'],
  'setting-time': ['min', 's', 'h'],
  light: ['s', 'J/cm2', 'mW/cm2'],
  'warm-up': ['min', 'h'],
  storage: ['C'],
  'opened-for': ['days', 'months'],
};

/** Groups whose numbers hold at one temperature. */
export const TEMPERED_GROUPS: ReadonlySet<SheetGroup> = new Set(['working-time', 'setting-time']);

/** Where a line stands: one number of one protocol. Ids, so that it is found in its later revisions too. */
export interface SheetSpot {
  readonly protocol: string;
  readonly part: 'steps' | 'windows';
  readonly id: string;
  readonly key: string;
  /** Of a variant of a time, for what it is, in its canonical text: its number alone may be another's later. */
  readonly where?: string;
  /** Where the step used the class of the sheet when the place was ticked. */
  readonly used?: true;
}

/** Who read a line against this very revision of the document, and when. */
export interface SheetReading {
  readonly how: 'same' | 'typed';
  readonly by: string;
  /** ISO 8601 calendar date. */
  readonly on: string;
}

export interface SheetLine {
  readonly id: string;
  readonly group: SheetGroup;
  /** What the document calls it, where the group does not say enough: "on enamel". */
  readonly title?: string;
  /** In `unit`, as it is printed. */
  readonly value: number;
  readonly unit: SheetUnit;
  readonly bound: SheetBound;
  /** In °C, for working and setting times. */
  readonly temperatureC?: number;
  /** The document's own words. */
  readonly asWritten: string;
  readonly page?: string;
  readonly spots: readonly SheetSpot[];
  /** Absent where nobody read the line in this revision: then it confirms nothing. */
  readonly read?: SheetReading;
}

export interface ProductSheet {
  readonly format: 'lutewatch-sheet';
  readonly formatVersion: 1;
  /** The same through all revisions of one document. */
  readonly id: string;
  /** Generic class, never a product. */
  readonly materialClass: string;
  readonly document: string;
  readonly revision: string;
  /** ISO 8601 calendar date that is printed on it. */
  readonly date?: string;
  /** Which pages there are: "1 to 4". */
  readonly pages?: string;
  readonly deviceIdentifiers?: readonly string[];
  readonly lines: readonly SheetLine[];
}

const isDuration = (key: string): boolean => /(Ms|MsMin)$/.test(key);

/**
 * The number of a line in the unit of a figure: whole ms, coats or J/cm². Null where the two do not
 * measure the same thing.
 */
export function valueForKey(
  { value, unit }: Pick<SheetLine, 'value' | 'unit'>,
  key: string,
): number | null {
  const unitMs = UNIT_MS[unit];
  if (isDuration(key)) return unitMs === null ? null : Math.round(value * unitMs);
  if (key === 'action.count') return unit === 'coats' ? value : null;
  if (key === 'action.doseJPerCm2') return unit === 'J/cm2' ? value : null;
  return null;
}
