/**
 * When it is worth saying that a case is behind or ahead of its plan: not in the first minutes, not by
 * less than the plan itself may be out, and not for a wait that was cut short. Times in ms.
 */
import type { CaseState } from '../engine/types.ts';

/** What is pressed before this says nothing about the pace of a day. Common practice, no source. */
export const LAG_SILENT_MS = 5 * 60_000;

/** The chair time that is as likely as not, and the one that nine days in ten stay under. */
interface ChairTime {
  readonly p50Ms: number;
  readonly p90Ms: number;
}

/** How far a plan may be out by the paces that it was made of. */
export const spreadOf = ({ p50Ms, p90Ms }: ChairTime): number => Math.max(0, p90Ms - p50Ms);

/** Time that was surely saved by not waiting: minima that were not kept, the longest of each limit. */
export function cutShortMs({ breaches }: Pick<CaseState, 'breaches'>): number {
  const longest = new Map<string, number>();
  for (const { kind, of, by, perhaps } of breaches) {
    if (perhaps || (kind !== 'early' && kind !== 'short')) continue;
    if (Number.isFinite(by)) longest.set(of, Math.max(by, longest.get(of) ?? 0));
  }
  return [...longest.values()].reduce((sum, ms) => sum + ms, 0);
}

/**
 * What is said of the pace: how much later than planned, negative for earlier, 0 for on plan; null
 * where nothing is said yet.
 */
export function lagOf(o: {
  readonly behindMs: number;
  readonly elapsedMs: number;
  readonly spreadMs: number;
  readonly cutShortMs: number;
}): number | null {
  if (o.elapsedMs < LAG_SILENT_MS) return null;
  const ownMs = o.behindMs < 0 ? Math.min(0, o.behindMs + o.cutShortMs) : o.behindMs;
  return Math.abs(ownMs) <= o.spreadMs ? 0 : ownMs;
}
