/** What was found of a unit at one visit, its retainers counted in. Pure. */
import type { Finding, Then, UnitFound, Visit } from './follow-up-types.ts';

/** Everything that was found of a unit: of a bridge that of each retainer too. */
export function foundOf({ findings, retainers = [] }: UnitFound): ReadonlySet<Finding> {
  return new Set([...findings, ...retainers.flatMap((retainer) => retainer.findings)]);
}

/** Whether it was looked at. */
export const isSeen = (unit: UnitFound): boolean =>
  [...foundOf(unit)].some((finding) => finding !== 'not-seen');

/** A unit that is partly loose, or a bridge of which one retainer is loose, has lost its retention. */
export function isLoose(found: ReadonlySet<Finding>): boolean {
  return found.has('lost-retention') || found.has('partly-loose');
}

/** Whether the unit is no longer where it was bonded, and was not bonded again. */
export function isGone(unit: UnitFound): boolean {
  const found = foundOf(unit);
  if (unit.done === 'bonded-again') return false;
  return (
    found.has('lost-retention') ||
    found.has('tooth-lost') ||
    found.has('replaced-other') ||
    unit.done === 'replaced'
  );
}

/** Whether it stands where it was bonded, though a sight before found it gone. */
export const isBack = (found: UnitFound): boolean =>
  isSeen(found) && !isGone(found) && !foundOf(found).has('lost-retention');

/** What a visit found of one unit. */
export interface Look {
  readonly onDay: string;
  readonly found: UnitFound;
}

/** Every look at a unit, by day. A visit that did not look at it is none. */
export const looksAt = (visits: readonly Visit[], unit: string): readonly Look[] =>
  visits
    .flatMap(({ onDay, units }) =>
      units.flatMap((found) => (found.unit === unit && isSeen(found) ? [{ onDay, found }] : [])),
    )
    .toSorted((a, b) => (a.onDay < b.onDay ? -1 : a.onDay > b.onDay ? 1 : 0));

/** Whether all of it was looked at: of a bridge each retainer. */
export const isWholeSeen = (unit: UnitFound): boolean =>
  isSeen(unit) && !(unit.retainers ?? []).some(({ findings }) => findings.includes('not-seen'));

/** What was done at one of two visits of a day hides what was done at the other. */
const LATEST_DONE: readonly Then[] = ['bonded-again', 'replaced', 'repaired', 'left'];

const least = (a: string | undefined, b: string | undefined): string | undefined =>
  a === undefined || (b !== undefined && b < a) ? b : a;

/** What was found of one unit at two visits of one day, as one; which of them is named first does not matter. */
export function asOneDay(a: UnitFound, b: UnitFound): UnitFound {
  const all = new Set([...foundOf(a), ...foundOf(b)]);
  const events = [...all].filter((finding) => finding !== 'in-place' && finding !== 'not-seen');
  const done = LATEST_DONE.find((then) => a.done === then || b.done === then);
  const bondedAgainIn = least(a.bondedAgainIn, b.bondedAgainIn);
  const statedDay = least(a.statedDay, b.statedDay);
  return {
    unit: a.unit,
    findings: events.length > 0 ? events.toSorted() : ['in-place'],
    ...(isWholeSeen(a) || isWholeSeen(b)
      ? {}
      : { retainers: [...(a.retainers ?? []), ...(b.retainers ?? [])] }),
    ...(done === undefined ? {} : { done }),
    ...(bondedAgainIn === undefined ? {} : { bondedAgainIn }),
    ...(statedDay === undefined ? {} : { statedDay }),
  };
}
