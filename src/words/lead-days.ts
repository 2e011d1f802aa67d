/** Calendar days as the forms of the desk write them: ISO 8601, in the tablet's own time zone. */
import { writeDate } from './written-date.ts';

/** `2026-11-25` */
export function isoDay(wallMs: number): string {
  return writeDate(wallMs, 'yyyy-MM-dd');
}
