/**
 * Places stamps on the case axis. Inside one browser run the monotonic clock measures, as long as
 * the wall clock agrees within {@link CLOCKS_AGREE_MS}, counted from the anchor: the last place at
 * which the clocks were taken to agree, not the reading before, so that many small slips add up.
 * Where they disagree one of them is right, and the length lies between what the two counted. A wall
 * clock that went back behind its own latest reading is the wrong one: then monotonic wins. Between
 * two runs only the wall clock counts; where it went back meanwhile, nobody knows how long it was,
 * and there is no upper end.
 * Input: stamps in whole milliseconds. Output: places on the axis, in milliseconds.
 */
import { caseMs, durationMs } from '../base/units.ts';
import type { AxisAnchor, CaseInstant, Elapsed, GapCause, Stamp } from './types.ts';

/**
 * The two clocks count as agreeing up to this difference from the anchor. A design choice of this
 * project: a drift of 20 ppm, as between a disciplined clock and a good quartz, comes to 216 ms in
 * three hours and is passed over; a slip that people could see in whole seconds is not.
 */
export const CLOCKS_AGREE_MS = 250;

/** Where a stamp lies, and why that is not exact if it is not. */
interface PlacedStamp {
  readonly at: CaseInstant;
  readonly cause: GapCause | null;
  /** Where the gap begins: so far the case was watched. The place itself when there is none. */
  readonly start: CaseInstant;
  /** Length of the gap: [0, 0] when exact, no upper end when it is not trusted. */
  readonly gap: { readonly loMs: number; readonly hiMs: number; readonly untrusted: boolean };
}

const NO_GAP = { loMs: 0, hiMs: 0, untrusted: false } as const;

/** The first place on the axis. */
export const AXIS_START: CaseInstant = { loMs: caseMs(0), hiMs: caseMs(0) };

/** Moves both ends of a place, each by its own length (may be negative). */
function widen(at: CaseInstant, by: { readonly loMs: number; readonly hiMs: number }): CaseInstant {
  const { loMs, hiMs, behind, spread } = at;
  return {
    loMs: caseMs(loMs + by.loMs),
    hiMs: caseMs(hiMs + by.hiMs),
    ...(behind && { behind: { gaps: behind.gaps, hiMs: caseMs(behind.hiMs + by.hiMs) } }),
    ...(spread && { spread }),
  };
}

/** Moves a place by a known length (may be negative). */
export function shift(at: CaseInstant, byMs: number): CaseInstant {
  return widen(at, { loMs: byMs, hiMs: byMs });
}

/** How far from its place an instant may be. */
const early = ({ spread }: CaseInstant): number => spread?.fromMs ?? 0;
const late = ({ spread }: CaseInstant): number => spread?.toMs ?? 0;

/** The same place, at which a press stands for a stretch of time: from `fromMs` to `toMs` away from it. */
export function spreadOver(
  at: CaseInstant,
  { fromMs, toMs }: { readonly fromMs: number; readonly toMs: number },
): CaseInstant {
  if (fromMs === 0 && toMs === 0) return at;
  return { ...at, spread: { fromMs: early(at) + fromMs, toMs: late(at) + toMs } };
}

/** The earliest and the latest that it can have been, in ms on the axis; infinite where nobody knows. */
export const earliestMs = (at: CaseInstant): number => at.loMs + early(at);
export const latestMs = (at: CaseInstant): number => at.hiMs + late(at);

/** Not after this: its press, or the earliest that it can have been where that comes before it. */
export const firstMs = (at: CaseInstant): number => Math.min(at.loMs, earliestMs(at));

/** Not before this, as far as the clocks before it are known: later than its press where the hands came to it later. */
export const soonestMs = (at: CaseInstant): number => at.loMs + Math.max(0, early(at));
/** Not after this, as far as the clocks before it are known. */
export const lastMs = (at: CaseInstant): number => at.loMs + Math.max(0, late(at));

const openGaps = ({ behind }: CaseInstant): number => behind?.gaps ?? 0;

/** The upper end, with every gap of unknown length counted as none. */
const knownHiMs = ({ behind, hiMs }: CaseInstant): number => behind?.hiMs ?? hiMs;

/** The place behind a gap of unknown length that begins at `start`. */
function behindOpenGap(start: CaseInstant, byLoMs: number): CaseInstant {
  return {
    loMs: caseMs(start.loMs + byLoMs),
    hiMs: caseMs(Number.POSITIVE_INFINITY),
    behind: { gaps: openGaps(start) + 1, hiMs: caseMs(knownHiMs(start)) },
  };
}

/**
 * Orders two places by their upper ends, those behind more gaps of unknown length later; below 0 when
 * `a` is the earlier one. Places of one case keep the order in which they were pressed.
 */
export function compareHi(a: CaseInstant, b: CaseInstant): number {
  return openGaps(a) - openGaps(b) || knownHiMs(a) + late(a) - (knownHiMs(b) + late(b));
}

/** The same text for two places exactly when they are the same. */
export function placeKey(at: CaseInstant): string {
  const gaps = openGaps(at);
  // A sweep is one clock: its subjects were pressed together, and the clock says how far apart they are.
  return `${at.loMs}-${knownHiMs(at)}${gaps === 0 ? '' : `+${gaps}`}`;
}

/** Longer than anything that a protocol bounds, and still exact to the millisecond. */
const OPEN_GAP_STAND_IN_MS = 1e12;

/**
 * The upper end as a finite number, for sums that infinity would spoil: a gap of unknown length
 * stands as one in which every maximum has passed.
 */
export function finiteHiMs(at: CaseInstant): number {
  return knownHiMs(at) + openGaps(at) * OPEN_GAP_STAND_IN_MS;
}

/** The same for what has begun: a limit that counts from it is judged by the earliest that it can have been. */
export function finiteEarlyMs(at: CaseInstant): number {
  return finiteHiMs(at) + Math.max(early(at), -OPEN_GAP_STAND_IN_MS);
}

/** The same for what is judged by the shortest that may have passed since. */
export function finiteLateMs(at: CaseInstant): number {
  return finiteHiMs(at) + late(at);
}

/** Where the latest reading of a run lies, and by how much its two clocks had come apart. */
function latestOf({ stamp, at, latest }: AxisAnchor): { start: CaseInstant; slipMs: number } {
  const knownMs = Math.max(0, latest.monoMs - stamp.monoMs);
  // Too small to be told while the run went on; dropped at each reload, it would add up.
  const slipMs = latest.wallMs - stamp.wallMs - knownMs;
  return { start: shift(at, knownMs), slipMs };
}

/** Places a stamp of another run: what the old one counted up to its latest reading is known. */
function placeInOtherRun(anchor: AxisAnchor, stamp: Stamp): PlacedStamp {
  const { start, slipMs } = latestOf(anchor);
  const sinceMs = stamp.wallMs - anchor.latest.wallMs;
  const byLoMs = Math.min(0, slipMs);
  if (sinceMs < 0) {
    const gap = { loMs: 0, hiMs: Number.POSITIVE_INFINITY, untrusted: true };
    return { at: behindOpenGap(start, byLoMs), cause: 'closed', start, gap };
  }
  const gap = { loMs: 0, hiMs: sinceMs + Math.max(0, slipMs), untrusted: false };
  return { at: widen(start, { loMs: byLoMs, hiMs: gap.hiMs }), cause: 'closed', start, gap };
}

/**
 * Places the first stamp of another tablet. Its clocks tell nothing of those before, not even the wall clock:
 * only what was measured since the latest reading of the anchor counts.
 */
export function placeElsewhere(
  anchor: AxisAnchor,
  since: { readonly atLeastMs: number; readonly atMostMs: number | null },
): PlacedStamp {
  const { start, slipMs } = latestOf(anchor);
  const byLoMs = Math.min(0, slipMs) + since.atLeastMs;
  const loMs = Math.max(0, byLoMs);
  if (since.atMostMs === null) {
    const gap = { loMs, hiMs: Number.POSITIVE_INFINITY, untrusted: true };
    return { at: behindOpenGap(start, byLoMs), cause: 'other-tablet', start, gap };
  }
  const gap = { loMs, hiMs: since.atMostMs + Math.max(0, slipMs), untrusted: false };
  const at = widen(start, { loMs: byLoMs, hiMs: gap.hiMs });
  return { at, cause: 'other-tablet', start, gap };
}

/** Places `stamp` on the axis as seen from `anchor`. */
export function place(anchor: AxisAnchor, stamp: Stamp): PlacedStamp {
  if (stamp.runId !== anchor.stamp.runId) return placeInOtherRun(anchor, stamp);
  const wallMs = stamp.wallMs - anchor.stamp.wallMs;
  const monoMs = Math.max(0, stamp.monoMs - anchor.stamp.monoMs);
  const driftMs = wallMs - monoMs;
  const byMono = shift(anchor.at, monoMs);
  if (Math.abs(driftMs) <= CLOCKS_AGREE_MS) {
    return { at: byMono, cause: null, start: byMono, gap: NO_GAP };
  }
  if (driftMs > 0) {
    const gap = { loMs: 0, hiMs: driftMs, untrusted: false };
    return { at: widen(byMono, gap), cause: 'asleep-or-moved', start: byMono, gap };
  }
  if (stamp.wallMs < anchor.latest.wallMs) {
    return { at: byMono, cause: 'moved-back', start: byMono, gap: NO_GAP };
  }
  // The slower clock may be the right one; but what was watched up to the latest reading stands.
  const watchedMs = Math.min(monoMs, Math.max(0, anchor.latest.monoMs - anchor.stamp.monoMs));
  const start = shift(anchor.at, Math.max(wallMs, watchedMs));
  const gap = { loMs: 0, hiMs: monoMs - Math.max(wallMs, watchedMs), untrusted: false };
  return { at: widen(start, gap), cause: 'moved-back', start, gap };
}

/**
 * Time from one place to a later one. Intervals between the two add up; nothing is negative. There is
 * no upper end (Infinity) when a gap of unknown length lies between them.
 */
export function elapsed(from: CaseInstant, to: CaseInstant): Elapsed {
  const lo = Math.max(0, Math.max(0, to.loMs - from.loMs) + early(to) - late(from));
  const hi =
    openGaps(to) > openGaps(from)
      ? Number.POSITIVE_INFINITY
      : Math.max(lo, Math.max(0, knownHiMs(to) - knownHiMs(from)) + late(to) - early(from));
  return { loMs: durationMs(lo), hiMs: durationMs(hi) };
}

/**
 * How long until so much time has passed from one place, by the shortest and by the longest that may have
 * passed; negative once it has. A sweep that is still going on is waited for as well.
 */
export function untilMs(from: CaseInstant, now: CaseInstant, ms: number) {
  const { spread: _, ...placed } = from;
  const { loMs, hiMs } = elapsed(placed, now);
  return { byShortest: ms - loMs + late(from), byLongest: ms - hiMs + early(from) };
}

/** True when `elapsed` is known to the millisecond. */
export function isExact(e: Elapsed): boolean {
  return e.loMs === e.hiMs;
}
