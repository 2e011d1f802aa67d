/** Where the windows of a record's picture lie among each other. Pure. */
import {
  type DoneMark,
  drawnToMs,
  type PlannedWindow,
  type RecordTimeline,
  type WindowGauge,
} from '../../../export/record-timeline.ts';
import type { Stretch } from '../../parts/TimePicture.tsx';

/** A window on its line, with where its vessel ends. */
export interface PlacedGauge {
  readonly gauge: WindowGauge;
  readonly line: number;
  /** The vessel reaches to its limit, or to what was filled when nothing limits it. */
  readonly rimMs: number;
  readonly filledMs: number;
  /** The limit lies behind the end of the picture. */
  readonly isCut: boolean;
}

/**
 * How far a window is filled: by the longest that it may have lasted. Its end alone would say too much: a
 * gap that lies before both of its ends widens both alike. Null while it is open, and when nobody knows.
 */
function filledToMs({ fromMs, to, tookMs }: WindowGauge): number | null {
  if (to === null) return null;
  return tookMs === null ? to.hiMs : fromMs + tookMs;
}

/** How far something that was done is drawn: by the longest that it may have taken. */
export const doneToMs = ({ from, to, took }: DoneMark): number =>
  took.hiMs === null ? drawnToMs(to) : from.loMs + took.hiMs;

/**
 * Puts windows that run at the same time on lines of their own, earliest first.
 * @param endMs where the picture ends: a longer vessel is cut there.
 */
export function placedGauges(gauges: readonly WindowGauge[], endMs: number): PlacedGauge[] {
  const freeFromMs: number[] = [];
  return gauges.map((gauge) => {
    const limitMs = gauge.maxMs ?? gauge.minMs;
    const filledMs = Math.min(endMs, filledToMs(gauge) ?? endMs);
    const limitAtMs = limitMs === null ? filledMs : gauge.fromMs + limitMs;
    const rimMs = Math.min(endMs, limitAtMs);
    const free = freeFromMs.findIndex((ms) => ms <= gauge.fromMs);
    const line = free < 0 ? freeFromMs.length : free;
    freeFromMs[line] = Math.max(rimMs, filledMs);
    return { gauge, line, rimMs, filledMs, isCut: limitAtMs > endMs };
  });
}

export const linesOf = (placed: readonly PlacedGauge[]): number =>
  placed.reduce((most, { line }) => Math.max(most, line + 1), 0);

const weight = ({ isBroken, isVoided }: DoneMark): number => (isBroken ? 2 : isVoided ? 1 : 0);

/** What was not kept is drawn last, so that nothing covers it. */
export const inDrawingOrder = (marks: readonly DoneMark[]): DoneMark[] =>
  marks.toSorted((a, b) => weight(a) - weight(b));

/** Planned windows that run at the same time on lines of their own. */
export function plannedLines(
  windows: readonly PlannedWindow[],
): readonly { readonly window: PlannedWindow; readonly line: number }[] {
  const freeFromMs: number[] = [];
  return windows.map((window) => {
    const free = freeFromMs.findIndex((ms) => ms <= window.fromMs);
    const line = free < 0 ? freeFromMs.length : free;
    freeFromMs[line] = window.toMs;
    return { window, line };
  });
}

/** A stretch without any event is cut from this length on, if it is a third of all the rest or more. */
const IDLE_MS = 60 * 60_000;
const IDLE_SHARE = 1 / 3;

/** Every instant at which something begins, ends or is changed, done or planned. */
function eventsOf(picture: RecordTimeline): number[] {
  const { lanes, windows, plannedWindows, changes, doneEndMs, endMs } = picture;
  const gauges = [...windows.flat(), ...lanes.flatMap((lane) => lane.gauges)];
  const planned = [
    ...Object.values(plannedWindows).flat(),
    ...lanes.flatMap((l) => l.plannedWindows),
  ];
  return [
    0,
    doneEndMs,
    endMs,
    ...changes.map((change) => change.atMs),
    ...planned.flatMap(({ fromMs, toMs }) => [fromMs, toMs]),
    ...gauges.flatMap(({ fromMs, to }) => [
      fromMs,
      to?.loMs ?? fromMs,
      to ? drawnToMs(to) : fromMs,
    ]),
    ...lanes.flatMap(({ marks, planned: bars }) => [
      ...marks.flatMap(({ from, to }) => [from.loMs, drawnToMs(from), to.loMs, drawnToMs(to)]),
      ...bars.flatMap((bar) => [bar.startMs, bar.endMs]),
    ]),
  ];
}

/** Hours in which nothing happened, such as those of a case that was left open: drawn short, and said. */
export function idleCuts(picture: RecordTimeline): Stretch[] {
  const at = eventsOf(picture).sort((a, b) => a - b);
  const idle = at.flatMap((toMs, i): Stretch[] => {
    const fromMs = at[i - 1] ?? 0;
    return toMs - fromMs > IDLE_MS ? [{ fromMs, toMs }] : [];
  });
  const restMs = picture.endMs - idle.reduce((sum, s) => sum + s.toMs - s.fromMs, 0);
  return idle.filter(({ fromMs, toMs }) => toMs - fromMs >= restMs * IDLE_SHARE);
}
