/**
 * Places stamps on the case axis. Inside one browser run the monotonic clock measures, as long as
 * the wall clock agrees within {@link CLOCKS_AGREE_MS}. Where they disagree, or a run ended in
 * between, the length is an interval: not shorter than what the monotonic clock counted, not longer
 * than what the wall clock shows. If the wall clock went back inside a run, monotonic wins.
 * Input: stamps in whole milliseconds. Output: places on the axis, in milliseconds.
 */
import { caseMs, durationMs } from '../base/units.ts';
import type { AxisAnchor, CaseInstant, Elapsed, GapCause, Stamp } from './types.ts';

/** The two clocks count as agreeing up to this difference. A design choice of this project. */
export const CLOCKS_AGREE_MS = 250;

/** Where a stamp lies, and why that is not exact if it is not. */
export interface Placed {
  readonly at: CaseInstant;
  readonly cause: GapCause | null;
  /** Length added by the disagreement alone: [0, 0] when exact. */
  readonly gap: { readonly loMs: number; readonly hiMs: number; readonly untrusted: boolean };
}

const NO_GAP = { loMs: 0, hiMs: 0, untrusted: false } as const;

/** The first place on the axis. */
export const AXIS_START: CaseInstant = { loMs: caseMs(0), hiMs: caseMs(0) };

/** Moves a place by a known length (may be negative). */
export function shift(at: CaseInstant, byMs: number): CaseInstant {
  return { loMs: caseMs(at.loMs + byMs), hiMs: caseMs(at.hiMs + byMs) };
}

/** Places `stamp` on the axis as seen from `anchor`. */
export function place(anchor: AxisAnchor, stamp: Stamp): Placed {
  if (stamp.runId !== anchor.stamp.runId) {
    // What the old run counted up to its latest record is known; only the rest is a gap.
    const sinceMs = stamp.wallMs - anchor.latest.wallMs;
    const knownMs = Math.max(0, anchor.latest.monoMs - anchor.stamp.monoMs);
    const gap = { loMs: 0, hiMs: Math.max(0, sinceMs), untrusted: sinceMs < 0 };
    return { at: widen(shift(anchor.at, knownMs), gap), cause: 'closed', gap };
  }
  const wallMs = stamp.wallMs - anchor.stamp.wallMs;
  const monoMs = Math.max(0, stamp.monoMs - anchor.stamp.monoMs);
  const driftMs = wallMs - monoMs;
  const at = shift(anchor.at, monoMs);
  if (driftMs > CLOCKS_AGREE_MS) {
    const gap = { loMs: 0, hiMs: driftMs, untrusted: false };
    return { at: widen(at, gap), cause: 'asleep-or-moved', gap };
  }
  return { at, cause: driftMs < -CLOCKS_AGREE_MS ? 'moved-back' : null, gap: NO_GAP };
}

function widen(
  at: CaseInstant,
  gap: { readonly loMs: number; readonly hiMs: number },
): CaseInstant {
  return { loMs: caseMs(at.loMs + gap.loMs), hiMs: caseMs(at.hiMs + gap.hiMs) };
}

/** Time from one place to a later one. Intervals between the two add up; nothing is negative. */
export function elapsed(from: CaseInstant, to: CaseInstant): Elapsed {
  const lo = Math.max(0, to.loMs - from.loMs);
  return { loMs: durationMs(lo), hiMs: durationMs(Math.max(lo, to.hiMs - from.hiMs)) };
}

/** True when `elapsed` is known to the millisecond. */
export function isExact(e: Elapsed): boolean {
  return e.loMs === e.hiMs;
}
