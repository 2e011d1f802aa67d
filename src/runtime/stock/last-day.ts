/**
 * The last day on which a lot may be used: the earlier of the expiry on its label and the days that
 * its instructions give it after opening. Days of the calendar, ISO 8601; whole days count. Pure.
 */
import { dayAfter } from '../../words/date-words.ts';
import { instantIn, UTC_ZONE } from '../../words/zone.ts';
import type { Material } from './stock-types.ts';

interface LastDay {
  readonly day: string;
  readonly because: 'expiry' | 'opened';
}

/** Nothing is kept open for longer than this: what says so is a slip, and no calendar holds it. */
const OPEN_DAYS_MAX = 36_525;

/** The last day on which it may be used after opening; null when that is not limited. */
export function lastDayOpen(material: Pick<Material, 'openedOn' | 'useWithinDays'>): string | null {
  const { openedOn, useWithinDays } = material;
  if (openedOn === undefined || useWithinDays === undefined) return null;
  if (useWithinDays > OPEN_DAYS_MAX || instantIn(openedOn, UTC_ZONE) === null) return null;
  return dayAfter(openedOn, Math.floor(useWithinDays));
}

/** Null where neither the label nor the opening limits it. */
export function lastDayOf(
  material: Pick<Material, 'openedOn' | 'useWithinDays' | 'expiry'>,
): LastDay | null {
  const { expiry } = material;
  const openUntil = lastDayOpen(material);
  if (openUntil !== null && (expiry === undefined || openUntil < expiry)) {
    return { day: openUntil, because: 'opened' };
  }
  return expiry === undefined ? null : { day: expiry, because: 'expiry' };
}

/** What is to be used up first stands first, what nothing limits behind it, and a recalled lot last. */
export function byLastDay(a: Material, b: Material): number {
  const [isRecalled, isOther] = [a, b].map(({ recalled }) => Number(recalled !== undefined));
  if (isRecalled !== isOther) return (isRecalled ?? 0) - (isOther ?? 0);
  return (lastDayOf(a)?.day ?? '9').localeCompare(lastDayOf(b)?.day ?? '9');
}
