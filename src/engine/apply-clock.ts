/**
 * Keeps the case axis: places each recorded stamp, and notes a gap where the two clocks disagree or
 * a browser run ended. A settled gap has the length that people gave it.
 */
import { assert } from '../base/assert.ts';
import { place, shift } from './axis.ts';
import type { CaseEvent, CaseInstant, CaseState, Gap, Recorded } from './types.ts';

/** What corrections say about one event. */
export interface Correction {
  /** The press was later moved by this much. */
  readonly shiftMs: number;
  /** The gap that this event marks was later settled at this length. */
  readonly settledMs: number | null;
}

export const NO_CORRECTION: Correction = { shiftMs: 0, settledMs: null };

/** Moves the anchor when the clocks disagree, and notes the gap. */
export function placed(
  state: CaseState,
  recorded: Recorded,
  correction: Correction,
): { state: CaseState; at: CaseInstant } {
  const found = place(state.anchor, recorded.stamp);
  if (found.cause === null) return { state, at: found.at };
  return withGap(state, recorded, found, correction);
}

function withGap(
  state: CaseState,
  recorded: Recorded,
  found: ReturnType<typeof place>,
  correction: Correction,
): { state: CaseState; at: CaseInstant } {
  assert(found.cause !== null, 'a gap has a cause');
  const settled = correction.settledMs;
  const loMs = settled ?? found.gap.loMs;
  const hiMs = settled ?? found.gap.hiMs;
  const before = shift(found.at, -found.gap.loMs);
  const start: CaseInstant = { loMs: before.loMs, hiMs: shift(found.at, -found.gap.hiMs).hiMs };
  const at: CaseInstant = { loMs: shift(start, loMs).loMs, hiMs: shift(start, hiMs).hiMs };
  const gap: Gap = {
    seq: recorded.seq,
    cause: found.cause,
    at: start,
    loMs,
    hiMs,
    settled: settled !== null,
    untrusted: settled === null && found.gap.untrusted,
  };
  return {
    state: { ...state, anchor: { stamp: recorded.stamp, at }, gaps: [...state.gaps, gap] },
    at,
  };
}

type GapFound = Extract<CaseEvent, { type: 'gap-found' }>;

/** A gap that the heartbeat saw: the axis runs exactly up to `before`, then has the gap. */
export function applyGap(
  state: CaseState,
  recorded: Recorded,
  event: GapFound,
  correction: Correction,
): CaseState {
  const { anchor } = state;
  const sameRun = event.before.runId === anchor.stamp.runId;
  // An event between the two beats has already moved the anchor past this gap.
  if (
    sameRun &&
    event.before.monoMs < anchor.stamp.monoMs &&
    event.after.runId === anchor.stamp.runId
  ) {
    return state;
  }
  const upTo =
    sameRun && event.before.monoMs >= anchor.stamp.monoMs
      ? { stamp: event.before, at: place(anchor, event.before).at }
      : anchor;
  const found = place(upTo, event.after);
  if (found.cause === null) return state;
  return withGap({ ...state, anchor: upTo }, recorded, found, correction).state;
}
