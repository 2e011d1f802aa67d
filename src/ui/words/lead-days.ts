/** Calendar days as the forms of the desk write them: ISO 8601, in the tablet's own time zone. */
import { format } from 'date-fns';

/** `2026-11-25` */
export function isoDay(wallMs: number): string {
  return format(wallMs, 'yyyy-MM-dd');
}
