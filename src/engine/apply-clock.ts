/**
 * Keeps the case axis: places each recorded stamp, and notes a gap where the two clocks disagree or
 * a browser run ended. A settled gap has the length that people gave it.
 */
import { assert } from '../base/assert.ts';
import { place, placeElsewhere, shift } from './axis.ts';
import { isElsewhere } from './pen.ts';
import type { PenTaken } from './pen-types.ts';
import type {
  AxisAnchor,
  CaseEvent,
  CaseInstant,
  CaseState,
  Gap,
  Recorded,
  Stamp,
} from './types.ts';

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
  const { event } = recorded;
  if (event.type === 'pen-taken' && isElsewhere(state, event)) {
    return takenElsewhere(state, recorded, event, correction);
  }
  const found = place(state.anchor, recorded.stamp);
  if (found.cause === null) {
    const anchor = { ...state.anchor, latest: later(recorded.stamp, state.anchor.latest) };
    return { state: { ...state, anchor }, at: found.at };
  }
  const { seq, stamp } = recorded;
  return withGap(state, { seq, stamp }, found, correction);
}

/** `noticed` is the stamp that showed the gap: the axis goes on from there. */
function withGap(
  state: CaseState,
  noticed: { readonly seq: number; readonly stamp: Stamp },
  found: ReturnType<typeof place>,
  correction: Correction,
): { state: CaseState; at: CaseInstant } {
  assert(found.cause !== null, 'a gap has a cause');
  const settled = correction.settledMs;
  const at = settled === null ? found.at : shift(found.start, settled);
  const gap: Gap = {
    seq: noticed.seq,
    cause: found.cause,
    at: found.start,
    loMs: settled ?? found.gap.loMs,
    hiMs: settled ?? found.gap.hiMs,
    settled: settled !== null,
    untrusted: settled === null && found.gap.untrusted,
  };
  const { stamp } = noticed;
  const anchor = { stamp, at, latest: later(stamp, state.anchor.latest) };
  return { state: { ...state, anchor, gaps: [...state.gaps, gap] }, at };
}

type GapFound = Extract<CaseEvent, { type: 'gap-found' }>;

/** True when `stamp` lies after `other` in the same run; a sleep may leave the monotonic clock as it was. */
function isAfter(stamp: Stamp, other: Stamp): boolean {
  if (stamp.runId !== other.runId) return false;
  return stamp.monoMs === other.monoMs ? stamp.wallMs > other.wallMs : stamp.monoMs > other.monoMs;
}

/** The later of two readings by the clock that nobody moves; the first where that does not tell. */
function later(stamp: Stamp, other: Stamp): Stamp {
  return other.runId === stamp.runId && other.monoMs > stamp.monoMs ? other : stamp;
}

/**
 * The anchor with `before` as its latest reading. The clocks go on being compared with the anchor
 * itself: a slip too small to be told at `before` counts in the gap that follows.
 */
function watchedUpTo(anchor: AxisAnchor, before: Stamp): AxisAnchor {
  const seen = place(anchor, before);
  if (seen.cause !== null) return { stamp: before, at: seen.at, latest: before };
  return { ...anchor, latest: later(before, anchor.latest) };
}

/** Another tablet goes on: the axis runs up to the last reading of the clock before that it had, then has a gap. */
function takenElsewhere(
  state: CaseState,
  recorded: Recorded,
  { seen }: PenTaken,
  correction: Correction,
): { state: CaseState; at: CaseInstant } {
  const { anchor } = state;
  const isUsable =
    seen !== undefined &&
    seen.stamp.runId === anchor.stamp.runId &&
    seen.stamp.monoMs >= anchor.latest.monoMs;
  const upTo = isUsable ? watchedUpTo(anchor, seen.stamp) : anchor;
  const found = placeElsewhere(upTo, isUsable ? seen : { atLeastMs: 0, atMostMs: null });
  const { seq, stamp } = recorded;
  return withGap({ ...state, anchor: upTo }, { seq, stamp }, found, correction);
}

/** A gap that the heartbeat saw: the axis runs exactly up to `before`, then has the gap. */
export function applyGap(
  state: CaseState,
  recorded: Recorded,
  event: GapFound,
  correction: Correction,
): CaseState {
  const { anchor } = state;
  const { before, after } = event;
  const isSame = before.runId === anchor.stamp.runId;
  const isPast = isSame ? isAfter(anchor.stamp, before) : after.runId === anchor.stamp.runId;
  // An event between the two beats, or in the new run, has already moved the anchor past this gap.
  if (isPast && after.runId === anchor.stamp.runId) return state;
  const upTo = isPast ? anchor : watchedUpTo(anchor, before);
  const found = place(upTo, after);
  if (found.cause === null) return state;
  const noticed = { seq: recorded.seq, stamp: after };
  return withGap({ ...state, anchor: upTo }, noticed, found, correction).state;
}
