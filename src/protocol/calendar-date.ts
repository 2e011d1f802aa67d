/** Whether `YYYY-MM-DD` is a day of the Gregorian calendar (ISO 8601). Leap years included. */
export function isCalendarDate(date: string): boolean {
  const [year = 0, month = 0, day = 0] = date.slice(0, 10).split('-').map(Number);
  const isLeap = (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
  const days = [31, isLeap ? 29 : 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
  return day >= 1 && day <= (days[month - 1] ?? 0);
}
