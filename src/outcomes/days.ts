/** Calendar days (ISO 8601, `2026-11-30`) and how many lie between them. No zone and no clock: a day is a day. */
import { MS_PER_DAY } from '../base/units.ts';
import { isCalendarDate } from '../protocol/calendar-date.ts';

const DAY = /^\d{4}-\d\d-\d\d$/;

export const isDay = (text: string): boolean => DAY.test(text) && isCalendarDate(text);

const numberOf = (day: string): number => Date.parse(`${day}T00:00:00Z`) / MS_PER_DAY;

const dayOf = (number: number): string => new Date(number * MS_PER_DAY).toISOString().slice(0, 10);

/** Whole days from one to another; negative where the other is earlier. */
export const daysBetween = (from: string, to: string): number => numberOf(to) - numberOf(from);

export const addDays = (day: string, days: number): string => dayOf(numberOf(day) + days);

/** The same day of a later month, or its last day where that month is shorter: 31 August and 6 months is 28 February. */
export function addMonths(day: string, months: number): string {
  const [year = 0, month = 1, date = 1] = day.split('-').map(Number);
  const first = Date.UTC(year, month - 1 + months, 1);
  const last = new Date(Date.UTC(year, month + months, 0)).getUTCDate();
  return dayOf(first / MS_PER_DAY + Math.min(date, last) - 1);
}
