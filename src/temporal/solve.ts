/**
 * Earliest and latest moments of a compiled network when some moments have happened and the rest
 * cannot come before now; and a way to go on when bounds are broken already.
 *
 * Inputs and results are in the unit of the network's bounds, milliseconds in the engine. Source
 * of the method: Dechter, Meiri & Pearl 1991 (see constraint.ts), single source instead of all
 * pairs: every fixed moment, and "now", is a bound from the beginning of the world.
 */

import { assert } from '../base/assert.ts';
import { boundOfArc, type Network, nodeIndex } from './compile-network.ts';
import { traceConflict } from './conflict.ts';
import type { Conflict } from './constraint.ts';
import { type Bounds, NO_ARC, raiseEarliest, settleLatest, TOLERANCE_MS } from './propagate.ts';
import { type RaiseState, retractArc } from './retract.ts';
import { indexAt, realAt } from './typed-array.ts';

/** What to do about bounds that cannot be kept: stop at the first, or give them up and go on. */
export type OnBroken = 'report' | 'relax';

/** The moments of a network as they can still be. Indexes are those of `network.nodes`. */
export interface Solution {
  readonly network: Network;
  readonly nowMs: number;
  readonly onBroken: OnBroken;
  /** When each moment was; NaN while it is pending. */
  readonly fixedAtMs: Float64Array;
  /** Fixed moments: when they were. Pending: not before this. NaN throughout after a report. */
  readonly earliestMs: Float64Array;
  /** Fixed moments: when they were. Pending: not after this, or Infinity. NaN after a report. */
  readonly latestMs: Float64Array;
  /** Indexes of the edges with a bound that has been given up, ascending, each once. */
  readonly broken: readonly number[];
  /** Why: one negative cycle for each bound given up; after a report, only the one that was met. */
  readonly conflicts: readonly Conflict[];
  /** 1 for each arc given up. */
  readonly isArcOff: Uint8Array;
}

/** Earliest, latest, and the room between them, of one moment. */
interface MomentRange {
  readonly earliestMs: number;
  readonly latestMs: number;
  /** `latestMs - earliestMs`: 0 for fixed moments, Infinity for those that nothing limits. */
  readonly slackMs: number;
}

/**
 * Solves `network` with the moments in `fixed` (name to instant) as they were and all others not
 * before `nowMs`. Never throws over times that contradict each other. With `relax`, bounds that
 * cannot be kept are given up in a settled order, and all others hold in the result:
 * 1. bounds between two facts, and bounds on a pending moment that now has passed;
 * 2. minima that together overrun a moment fixed later than now;
 * 3. maxima from a fixed moment that the minima on the way can no longer meet;
 * 4. one maximum of each cycle that is still left, the one farthest from the facts.
 * Unknown names and instants that are not finite numbers are programming errors and throw.
 */
export function solve(input: {
  readonly network: Network;
  readonly fixed: ReadonlyMap<string, number>;
  readonly nowMs: number;
  readonly onBroken: OnBroken;
}): Solution {
  const { network, fixed } = input;
  const fixedAtMs = new Float64Array(network.nodes.length).fill(Number.NaN);
  for (const [id, atMs] of fixed) fixedAtMs[nodeIndex(network, id)] = atMs;
  return solveFixed({ ...input, fixedAtMs });
}

/** As {@link solve}, with the fixed moments by index: NaN means pending. The array is kept. */
export function solveFixed(input: {
  readonly network: Network;
  readonly fixedAtMs: Float64Array;
  readonly nowMs: number;
  readonly onBroken: OnBroken;
}): Solution {
  const { network, fixedAtMs, nowMs, onBroken } = input;
  assert(Number.isFinite(nowMs), 'now is not a finite number');
  for (let node = 0; node < fixedAtMs.length; node += 1) {
    const atMs = realAt(fixedAtMs, node);
    assert(Number.isNaN(atMs) || Number.isFinite(atMs), 'a fixed moment is not finite');
  }
  const isArcOff = new Uint8Array(network.arcCount);
  const bounds: Bounds = { network, fixedAtMs, isArcOff };
  const ledger = openLedger(isArcOff, onBroken);
  const earliestMs = settleEarliest(bounds, nowMs, ledger);
  const { conflicts } = ledger;
  const unknownMs = earliestMs ?? new Float64Array(network.nodes.length).fill(Number.NaN);
  const broken = earliestMs === null ? [] : conflicts.map((conflict) => conflict.blamed.edge);
  // Written out: made for every picture, and a spread costs more than all the rest of it.
  return {
    network,
    nowMs,
    onBroken,
    fixedAtMs,
    isArcOff,
    conflicts,
    earliestMs: unknownMs,
    latestMs: earliestMs === null ? unknownMs : settleLatest(bounds),
    broken: broken.length < 2 ? broken : [...new Set(broken)].sort((a, b) => a - b),
  };
}

/** Earliest, latest and slack of the moment called `id`. */
export function rangeOf(solution: Solution, id: string): MomentRange {
  const node = nodeIndex(solution.network, id);
  const earliestMs = realAt(solution.earliestMs, node);
  const latestMs = realAt(solution.latestMs, node);
  return { earliestMs, latestMs, slackMs: latestMs - earliestMs };
}

/** Keeps the conflicts met so far. `giveUp` answers whether the search may go on. */
interface Ledger {
  readonly conflicts: Conflict[];
  readonly giveUp: (met: { readonly conflict: Conflict; readonly blamedArc: number }) => boolean;
}

function openLedger(isArcOff: Uint8Array, onBroken: OnBroken): Ledger {
  const conflicts: Conflict[] = [];
  return {
    conflicts,
    giveUp: ({ conflict, blamedArc }) => {
      conflicts.push(conflict);
      if (onBroken === 'report') return false;
      isArcOff[blamedArc] = 1;
      return true;
    },
  };
}

/** The earliest moments, or null when a conflict was met that is only to be reported. */
function settleEarliest(bounds: Bounds, nowMs: number, ledger: Ledger): Float64Array | null {
  if (!giveUpBrokenByFacts(bounds, nowMs, ledger)) return null;
  const fresh = (): RaiseState => byFacts(bounds, nowMs);
  const minima = raiseUntilSettled(bounds, ledger, {
    nowMs,
    arcs: 'minima',
    state: fresh(),
    start: fresh,
  });
  if (minima === null) return null;
  const { earliestMs, parentArc } = minima;
  if (!giveUpOutOfReach(bounds, { nowMs, earliestMs, parentArc }, ledger)) return null;
  const start = { earliestMs, parentArc, dirty: nodesWithMaxima(bounds.network) };
  const all = raiseUntilSettled(bounds, ledger, {
    nowMs,
    arcs: 'all',
    state: copyOf(start),
    start: () => start,
  });
  return all === null ? null : all.earliestMs;
}

/** Where a search begins: every moment as the facts and now have it, none looked at yet. */
function byFacts({ network, fixedAtMs }: Bounds, nowMs: number): RaiseState {
  const count = network.nodes.length;
  const earliestMs = fixedAtMs.slice();
  const parentArc = new Int32Array(count);
  const dirty = new Uint8Array(count);
  for (let node = 0; node < count; node += 1) {
    if (Number.isNaN(realAt(earliestMs, node))) earliestMs[node] = nowMs;
    parentArc[node] = NO_ARC;
    dirty[node] = 1;
  }
  return { earliestMs, parentArc, dirty };
}

const copyOf = ({ earliestMs, parentArc, dirty }: RaiseState): RaiseState => ({
  earliestMs: earliestMs.slice(),
  parentArc: parentArc.slice(),
  dirty: dirty.slice(),
});

/**
 * Raises from `start`, and goes on after each bound given up without what that bound had done.
 * Every time one more arc is given up, so it ends. Null when a conflict is only to be reported.
 */
function raiseUntilSettled(
  bounds: Bounds,
  ledger: Ledger,
  search: {
    readonly nowMs: number;
    readonly arcs: 'minima' | 'all';
    /** Changed in place. */
    readonly state: RaiseState;
    /** Where it began, for what has to be taken back: asked for only then. */
    readonly start: () => RaiseState;
  },
): RaiseState | null {
  const { state, start, arcs, nowMs } = search;
  const onStuck = (stuckArc: number): boolean => {
    const met = traceConflict(bounds, { stuckArc, parentArc: state.parentArc, nowMs });
    if (!ledger.giveUp(met)) return false;
    retractArc(bounds.network, { state, start: start(), arc: met.blamedArc });
    return true;
  };
  const { earliestMs, parentArc, dirty } = state;
  return raiseEarliest(bounds, { earliestMs, parentArc, dirty, arcs, onStuck }) ? state : null;
}

/** Bounds broken as the facts stand: between two of them, or overrun by now. */
function giveUpBrokenByFacts(bounds: Bounds, nowMs: number, ledger: Ledger): boolean {
  const { network, fixedAtMs } = bounds;
  for (let arc = 0; arc < network.arcCount; arc += 1) {
    const upper = indexAt(network.arcHead, arc);
    const upperAtMs = realAt(fixedAtMs, upper);
    if (Number.isNaN(upperAtMs)) continue;
    const lower = indexAt(network.arcTail, arc);
    const lowerAtMs = realAt(fixedAtMs, lower);
    const isLowerPending = Number.isNaN(lowerAtMs);
    const startMs = isLowerPending ? nowMs : lowerAtMs;
    const shortByMs = startMs + realAt(network.arcGain, arc) - upperAtMs;
    if (!(shortByMs > TOLERANCE_MS)) continue;
    const blamed = boundOfArc(network, arc);
    const anchors = {
      lower: { node: lower, because: isLowerPending ? ('now' as const) : ('fixed' as const) },
      upper: { node: upper },
    };
    const conflict = { parts: [blamed], shortByMs, anchors, blamed };
    if (!ledger.giveUp({ conflict, blamedArc: arc })) return false;
  }
  return true;
}

/** Maxima from a fixed moment that the minima alone already overrun. */
function giveUpOutOfReach(
  bounds: Bounds,
  reached: {
    readonly nowMs: number;
    readonly earliestMs: Float64Array;
    readonly parentArc: Int32Array;
  },
  ledger: Ledger,
): boolean {
  const { network, fixedAtMs, isArcOff } = bounds;
  for (let arc = 0; arc < network.arcCount; arc += 1) {
    if (network.arcIsMax[arc] !== 1 || isArcOff[arc] === 1) continue;
    const upperAtMs = realAt(fixedAtMs, indexAt(network.arcHead, arc));
    const tail = indexAt(network.arcTail, arc);
    const neededMs = realAt(reached.earliestMs, tail) + realAt(network.arcGain, arc);
    if (!(neededMs > upperAtMs + TOLERANCE_MS)) continue;
    if (
      !ledger.giveUp(
        traceConflict(bounds, {
          stuckArc: arc,
          parentArc: reached.parentArc,
          nowMs: reached.nowMs,
        }),
      )
    )
      return false;
  }
  return true;
}

const withMaxima = new WeakMap<Network, Uint8Array>();

/** 1 where a maximum leaves a moment; read only. */
function nodesWithMaxima(network: Network): Uint8Array {
  const hit = withMaxima.get(network);
  if (hit) return hit;
  const dirty = new Uint8Array(network.nodes.length);
  for (let arc = 0; arc < network.arcCount; arc += 1) {
    if (network.arcIsMax[arc] === 1) dirty[indexAt(network.arcTail, arc)] = 1;
  }
  withMaxima.set(network, dirty);
  return dirty;
}
