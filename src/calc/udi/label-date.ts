/**
 * Dates on labels: two-digit years, days that may be missing, days counted within the year. A date
 * without a day means the last day of its month, as an expiry date is read.
 */

/** A calendar date, and how finely the label stated it. */
export interface LabelDate {
  /** ISO 8601, for example "2027-12-31". */
  readonly iso: string;
  readonly statedTo: 'month' | 'day' | 'hour';
}

const CENTURY = 100;

/**
 * The four-digit year meant by two digits: 51 or more ahead of this year is the century before,
 * 50 or more behind is the next one (GS1 General Specifications 7.12; linter yymmd0 of the GS1
 * Syntax Dictionary).
 * @param years two digits from 0 to 99, and the present four-digit year.
 */
export function fullYear(years: { readonly twoDigit: number; readonly present: number }): number {
  const century = years.present - (years.present % CENTURY);
  const ahead = years.twoDigit - (years.present % CENTURY);
  if (ahead >= 51) return century - CENTURY + years.twoDigit;
  if (ahead <= -50) return century + CENTURY + years.twoDigit;
  return century + years.twoDigit;
}

function isLeapYear(year: number): boolean {
  return (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
}

/** Days in a month of 1 to 12; 0 for any other month. */
function daysInMonth(year: number, month: number): number {
  const lengths = [31, isLeapYear(year) ? 29 : 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
  return lengths[month - 1] ?? 0;
}

function isoDate(year: number, month: number, day: number): string {
  const two = (part: number): string => String(part).padStart(2, '0');
  return `${String(year).padStart(4, '0')}-${two(month)}-${two(day)}`;
}

export interface DateParts {
  readonly year: number;
  readonly month: number;
  /** 0 or missing: no day stated. */
  readonly day?: number;
  readonly hour?: number;
}

/** A date from its parts; null when no such day exists. */
export function labelDate({ year, month, day = 0, hour }: DateParts): LabelDate | null {
  const last = daysInMonth(year, month);
  if (last === 0 || day > last) return null;
  if (hour !== undefined && hour > 23) return null;
  if (day === 0) return { iso: isoDate(year, month, last), statedTo: 'month' };
  return { iso: isoDate(year, month, day), statedTo: hour === undefined ? 'day' : 'hour' };
}

/** A date from the day's number within its year, 1 to 365 or 366; null outside. */
export function ordinalDate(parts: {
  readonly year: number;
  readonly dayOfYear: number;
  readonly hour?: number;
}): LabelDate | null {
  let day = parts.dayOfYear;
  if (day < 1) return null;
  for (let month = 1; month <= 12; month += 1) {
    const length = daysInMonth(parts.year, month);
    if (day <= length) {
      const { year, hour } = parts;
      return labelDate(hour === undefined ? { year, month, day } : { year, month, day, hour });
    }
    day -= length;
  }
  return null;
}
