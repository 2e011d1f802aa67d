/**
 * How late something may be begun on the day, computed back from the appointment: a refrigerated
 * material needs its whole warm-up before the patient comes. Times in ms since 1970, UTC.
 */
import type { CaseFile, Protocol } from '../protocol/types.ts';

export interface LatestStart {
  readonly step: string;
  readonly window: string;
  readonly warmUpMs: number;
  readonly latestWallMs: number;
}

/**
 * The latest moment of each step that begins a warm-up, soonest first; where one step begins
 * several, the longest of them counts. Empty when the case has no appointment.
 */
export function latestStarts(spec: CaseFile, protocol: Protocol): readonly LatestStart[] {
  if (spec.scheduledFor === undefined) return [];
  const appointmentMs = Date.parse(spec.scheduledFor);
  const longest = new Map<string, LatestStart>();
  for (const window of protocol.windows) {
    if (window.protects !== 'warm' || window.minMs === undefined) continue;
    const warmUpMs = window.minMs.value;
    const known = longest.get(window.from.step);
    if (known !== undefined && known.warmUpMs >= warmUpMs) continue;
    longest.set(window.from.step, {
      step: window.from.step,
      window: window.id,
      warmUpMs,
      latestWallMs: appointmentMs - warmUpMs,
    });
  }
  return [...longest.values()].toSorted((a, b) => a.latestWallMs - b.latestWallMs);
}
