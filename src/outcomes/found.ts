/** What was found of a unit at one visit, its retainers counted in. Pure. */
import type { Finding, UnitFound } from './follow-up-types.ts';

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
