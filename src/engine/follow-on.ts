/**
 * What a later case needs to know of this one: when light last fell on a unit. The latest stamp of
 * an exposure counts, and a press that was later moved back is not believed to have been earlier:
 * a hold that starts too late only waits longer.
 */
import type { CaseFile, Follows } from '../protocol/case-types.ts';
import type { Protocol } from '../protocol/types.ts';
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

export interface Hold {
  readonly endsMs: number;
  readonly floorMs: number;
}

/** The hold that a visit waits for, as long as its protocol says; null where it waits for none. */
export function holdOf(
  { follows }: Pick<CaseFile, 'follows'>,
  { windows }: Pick<Protocol, 'windows'>,
): Hold | null {
  if (follows === undefined) return null;
  const floors = windows.flatMap((w) => (w.protects === 'hold' && w.minMs ? [w.minMs.value] : []));
  if (floors.length === 0) return null;
  const floorMs = Math.max(...floors);
  return { endsMs: follows.lastExposureWallMs + floorMs, floorMs };
}
