/**
 * Where every line of the gauge lies. Input: times in milliseconds and the drawing's length and
 * breadth in drawing units. Output: coordinates of a standing vessel, y growing downwards. One set
 * of rules serves the stroke beside a number, the chair clock and a lane of the plan.
 */

import { assert, unreachable } from '../../base/assert.ts';
import type { GaugePhase } from '../../words/codes.ts';

/** What kind of bound the gauge shows; it decides what stands at the top of the vessel. */
type GaugeKind = 'dwell' | 'window' | 'hold' | 'exposure' | 'age';

export interface GaugeTimes {
  readonly kind: GaugeKind;
  readonly elapsedLoMs: number;
  /** Infinity when nobody knows how long it was. */
  readonly elapsedHiMs: number;
  readonly floorMs?: number | undefined;
  readonly targetMs?: number | undefined;
  readonly rimMs?: number | undefined;
}

export interface GaugeGeometry {
  readonly phase: GaugePhase;
  readonly length: number;
  readonly breadth: number;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
  readonly radius: number;
  readonly lip: number;
  /** Surface of what has certainly passed. */
  readonly surfaceY: number;
  /** Surface of what may have passed; equal to `surfaceY` when the time is exact. */
  readonly bandY: number;
  readonly floorY: number | undefined;
  readonly targetY: number | undefined;
  readonly rimDrawn: boolean;
  /** 0 when nothing has spilled, 1 when the spill has its full size. */
  readonly spill: number;
}

/** Surfaces stand on half units, so that a slow vessel is drawn anew only when it looks different. */
const SURFACE_STEP = 0.5;
const OPEN_HEADROOM = 1.25;
const GOAL_HEADROOM = 1.08;
const SPILL_SHARE = 0.17;
const SPILL_AT_ONCE = 0.35;
const SPILL_FULL_AT_SHARE_OF_RIM = 0.5;

/** The time at the top of the vessel, in milliseconds; always above 0. */
function gaugeTopMs(times: GaugeTimes): number {
  const { kind, floorMs, targetMs, rimMs } = times;
  // Without an upper end the vessel is drawn for what is known, and filled to its top.
  const hiMs = Number.isFinite(times.elapsedHiMs) ? times.elapsedHiMs : times.elapsedLoMs;
  if (rimMs !== undefined) return Math.max(1, rimMs);
  switch (kind) {
    case 'hold':
      return Math.max(1, (floorMs ?? targetMs ?? hiMs) * GOAL_HEADROOM);
    case 'exposure':
      return Math.max(1, (targetMs ?? floorMs ?? hiMs) * GOAL_HEADROOM);
    case 'dwell':
    case 'window':
    case 'age':
      return Math.max(1, Math.max(targetMs ?? 0, floorMs ?? 0, hiMs) * OPEN_HEADROOM);
    default:
      return unreachable(kind);
  }
}

/** A minimum is judged by what has certainly passed, a maximum by what may have passed. */
export function gaugePhase(times: GaugeTimes): GaugePhase {
  const { elapsedLoMs, elapsedHiMs, floorMs, targetMs, rimMs, kind } = times;
  if (rimMs !== undefined && elapsedHiMs > rimMs) return 'over';
  if (elapsedHiMs <= 0) return 'waiting';
  if (kind === 'hold' || kind === 'exposure') {
    const goalMs = kind === 'hold' ? (floorMs ?? targetMs) : (targetMs ?? floorMs);
    return goalMs !== undefined && elapsedLoMs >= goalMs ? 'full' : 'short';
  }
  if (floorMs !== undefined && elapsedLoMs < floorMs) return 'short';
  if (targetMs !== undefined && elapsedLoMs >= targetMs) return 'past';
  return 'within';
}

function spillShare(times: GaugeTimes): number {
  const { rimMs, elapsedHiMs } = times;
  if (rimMs === undefined || elapsedHiMs <= rimMs) return 0;
  const share = (elapsedHiMs - rimMs) / Math.max(1, rimMs * SPILL_FULL_AT_SHARE_OF_RIM);
  return Math.min(1, SPILL_AT_ONCE + (1 - SPILL_AT_ONCE) * share);
}

/** Computes the drawing. Throws when the interval is reversed. */
export function gaugeGeometry(
  times: GaugeTimes,
  size: { readonly length: number; readonly breadth: number; readonly marks: boolean },
): GaugeGeometry {
  assert(
    times.elapsedLoMs <= times.elapsedHiMs,
    `gauge: lo ${times.elapsedLoMs} is above hi ${times.elapsedHiMs}`,
  );
  const { length, breadth } = size;
  const side = size.marks ? breadth * 0.22 : breadth * 0.2;
  const rimDrawn = times.rimMs !== undefined;
  const top = rimDrawn ? length * SPILL_SHARE : Math.max(2, length * 0.03);
  const bottom = length - 2;
  const topMs = gaugeTopMs(times);
  const yOf = (ms: number): number => {
    const share = Math.min(1, Math.max(0, ms / topMs));
    return bottom - share * (bottom - top);
  };
  const stepY = (ms: number): number => Math.round(yOf(ms) / SURFACE_STEP) * SURFACE_STEP;
  const markY = (ms: number | undefined): number | undefined =>
    ms === undefined || ms > topMs ? undefined : yOf(ms);
  return {
    phase: gaugePhase(times),
    length,
    breadth,
    left: side,
    right: breadth - side,
    top,
    bottom,
    radius: Math.min((breadth - 2 * side) * 0.32, 16),
    lip: breadth * 0.1,
    surfaceY: stepY(times.elapsedLoMs),
    bandY: stepY(times.elapsedHiMs),
    floorY: markY(times.floorMs),
    targetY: markY(times.targetMs),
    rimDrawn,
    spill: Math.round(spillShare(times) * 100) / 100,
  };
}
