/**
 * Dates as people read them, in the tablet's own time zone. The names stand here, because the
 * library's full formatter brings the grammar of a whole language along for them.
 */
import { lightFormat } from 'date-fns';

const DAYS = ['Sun', 'Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat'] as const;
const MONTHS = [
  'Jan',
  'Feb',
  'Mar',
  'Apr',
  'May',
  'Jun',
  'Jul',
  'Aug',
  'Sep',
  'Oct',
  'Nov',
  'Dec',
] as const;

/**
 * Writes an instant or a date.
 *
 * @param pattern `EEE` the day, `MMM` the month by name; else `yyyy MM d dd HH mm ss`.
 * @throws RangeError for an invalid date.
 */
export function writeDate(at: number | Date, pattern: string): string {
  const date = new Date(at);
  const named = pattern
    .replace('EEE', `'${DAYS[date.getDay()]}'`)
    .replace('MMM', `'${MONTHS[date.getMonth()]}'`);
  return lightFormat(date, named);
}
