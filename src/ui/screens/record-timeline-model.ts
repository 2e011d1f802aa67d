/** Where the windows of a record's picture lie among each other. Pure. */
import type { DoneMark, WindowGauge } from '../../export/record-timeline.ts';

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
 * Puts windows that run at the same time on lines of their own, earliest first.
 * @param endMs where the picture ends: a longer vessel is cut there.
 */
export function placedGauges(gauges: readonly WindowGauge[], endMs: number): PlacedGauge[] {
  const freeFromMs: number[] = [];
  return gauges.map((gauge) => {
    const limitMs = gauge.maxMs ?? gauge.minMs;
    const filledMs = Math.min(endMs, gauge.to?.hiMs ?? endMs);
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
