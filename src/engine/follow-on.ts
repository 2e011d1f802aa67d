/**
 * What a later case needs to know of this one: when light last fell on a unit. The latest stamp of
 * an exposure counts, and a press that was later moved back is not believed to have been earlier:
 * a hold that starts too late only waits longer.
 */
import type { Follows } from '../protocol/case-types.ts';
import { type CaseLog, presses } from './log.ts';

/** What to put into the case that goes on from this one; null while no light has been given. */
export function followsFrom(log: CaseLog): Follows | null {
  const kept = new Set(presses(log));
  const ends = log.records
    .filter((r) => kept.has(r.press) && r.event.type === 'exposure-stopped')
    .map((r) => r.stamp.wallMs);
  if (ends.length === 0) return null;
  return { caseId: log.state.opened.spec.id, lastExposureWallMs: Math.max(...ends) };
}
