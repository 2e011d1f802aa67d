/**
 * Pushes bounds through a compiled network until nothing moves: longest paths for the earliest
 * moments, shortest paths for the latest. Label-correcting sweeps in alternating direction over
 * the nodes' order in time (Yen, Quarterly of Applied Mathematics 27:526-530, 1970), touching only
 * nodes whose value has changed. Work that mostly runs forwards settles in two or three sweeps.
 */

import { assert } from '../base/assert.ts';
import type { Network } from './compile-network.ts';
import { indexAt, realAt } from './typed-array.ts';

/** Differences up to this are rounding, not time: far below what any clock here resolves. */
export const TOLERANCE_MS = 1e-6;

/** Stands for "no arc" in parent links. */
export const NO_ARC = -1;

/** What the two propagations work on. All arrays except the moments' values are read only. */
export interface Bounds {
  readonly network: Network;
  /** NaN where the moment is still open. */
  readonly fixedAtMs: Float64Array;
  /** 1 where the arc is not to be followed. */
  readonly isArcOff: Uint8Array;
}

/** A search for the earliest moments; the arrays are changed in place. */
interface Raise {
  readonly earliestMs: Float64Array;
  /** Which arc raised each moment last, or {@link NO_ARC}. */
  readonly parentArc: Int32Array;
  /** 1 where a moment's arcs have to be looked at. */
  readonly dirty: Uint8Array;
  readonly arcs: 'minima' | 'all';
  /**
   * Told of an arc that would move a fixed moment, or of any arc on a cycle that raises itself.
   * True means that something has been given up and the search goes on; false stops it.
   */
  readonly onStuck: (arc: number) => boolean;
}

/**
 * Raises `earliestMs` from the nodes in `dirty` until all is settled, and answers true; or false
 * when `onStuck` stopped it. Each arc that `onStuck` gives up must be off in `bounds` from then on.
 */
export function raiseEarliest(bounds: Bounds, work: Raise): boolean {
  const { order } = bounds.network;
  const { dirty, onStuck } = work;
  const count = order.length;
  const sweep = { moved: 0 };
  // Start against the order when maxima are in play after the minima have settled.
  let isForward = work.arcs === 'minima';
  let sweepsSinceStuck = 0;
  while (dirty.indexOf(1) >= 0) {
    assert(sweepsSinceStuck <= 4 * count + 8, 'earliest moments do not settle');
    sweepsSinceStuck += 1;
    sweep.moved = 0;
    for (let k = 0; k < count; k += 1) {
      const node = indexAt(order, isForward ? k : count - 1 - k);
      if (dirty[node] !== 1) continue;
      dirty[node] = 0;
      const stuckArc = raiseFrom(bounds, work, node, sweep);
      if (stuckArc === NO_ARC) continue;
      // The other arcs of this moment have not been looked at yet.
      dirty[node] = 1;
      sweepsSinceStuck = 0;
      if (!onStuck(stuckArc)) return false;
    }
    isForward = !isForward;
    const loopingArc =
      sweep.moved === 0 ? NO_ARC : arcOnParentCycle(bounds.network, work.parentArc);
    if (loopingArc === NO_ARC) continue;
    sweepsSinceStuck = 0;
    if (!onStuck(loopingArc)) return false;
  }
  return true;
}

/** Follows the arcs of one node; returns the arc at which it got stuck, or {@link NO_ARC}. */
function raiseFrom(bounds: Bounds, work: Raise, node: number, sweep: { moved: number }): number {
  const { network, isArcOff, fixedAtMs } = bounds;
  const { earliestMs, parentArc, dirty } = work;
  const base = realAt(earliestMs, node);
  const end =
    work.arcs === 'all' ? indexAt(network.outStart, node + 1) : indexAt(network.outMaxStart, node);
  for (let arc = indexAt(network.outStart, node); arc < end; arc += 1) {
    const head = indexAt(network.arcHead, arc);
    const candidate = base + realAt(network.arcGain, arc);
    if (!(candidate > realAt(earliestMs, head) + TOLERANCE_MS)) continue;
    if (isArcOff[arc] === 1) continue;
    // Fixed moments hold their own value, so being above it means the arc cannot be kept.
    if (!Number.isNaN(realAt(fixedAtMs, head))) return arc;
    earliestMs[head] = candidate;
    parentArc[head] = arc;
    dirty[head] = 1;
    sweep.moved += 1;
  }
  return NO_ARC;
}

/**
 * Lowers `latestMs` in place from the nodes in `dirty`, and clears `dirty`. Call it only after
 * {@link raiseEarliest} settled: then no cycle is left that could lower itself for ever.
 */
function lowerLatest(
  bounds: Bounds,
  work: { readonly latestMs: Float64Array; readonly dirty: Uint8Array },
): void {
  const { network, fixedAtMs, isArcOff } = bounds;
  const { latestMs, dirty } = work;
  const { order } = network;
  const count = order.length;
  let isForward = false;
  for (let sweeps = 0; dirty.indexOf(1) >= 0; sweeps += 1) {
    assert(sweeps <= 4 * count + 8, 'latest moments do not settle');
    for (let k = 0; k < count; k += 1) {
      const node = indexAt(order, isForward ? k : count - 1 - k);
      if (dirty[node] !== 1) continue;
      dirty[node] = 0;
      const base = realAt(latestMs, node);
      const end = indexAt(network.inStart, node + 1);
      for (let slot = indexAt(network.inStart, node); slot < end; slot += 1) {
        const arc = indexAt(network.inArc, slot);
        const tail = indexAt(network.arcTail, arc);
        const candidate = base - realAt(network.arcGain, arc);
        if (!(candidate < realAt(latestMs, tail) - TOLERANCE_MS)) continue;
        if (isArcOff[arc] === 1 || !Number.isNaN(realAt(fixedAtMs, tail))) continue;
        latestMs[tail] = candidate;
        dirty[tail] = 1;
      }
    }
    isForward = !isForward;
  }
}

/** The latest moments under the bounds that are kept, from the fixed ones backwards. */
export function settleLatest(bounds: Bounds): Float64Array {
  const { fixedAtMs } = bounds;
  const latestMs = new Float64Array(fixedAtMs.length);
  const dirty = new Uint8Array(fixedAtMs.length);
  for (let node = 0; node < fixedAtMs.length; node += 1) {
    const atMs = realAt(fixedAtMs, node);
    const isPending = Number.isNaN(atMs);
    latestMs[node] = isPending ? Number.POSITIVE_INFINITY : atMs;
    dirty[node] = isPending ? 0 : 1;
  }
  lowerLatest(bounds, { latestMs, dirty });
  return latestMs;
}

const seen = new WeakMap<Network, Int32Array>();

/** Room to note moments in, one for each network: it is wanted after every sweep. */
function seenScratch(network: Network): Int32Array {
  const hit = seen.get(network);
  if (hit) return hit.fill(0);
  const made = new Int32Array(network.nodes.length);
  seen.set(network, made);
  return made;
}

/**
 * An arc on a cycle of parent links, or {@link NO_ARC}. Such a cycle raises itself without end,
 * and in a network that does, one appears before long (Cherkassky & Goldberg, Mathematical
 * Programming 85:277-311, 1999).
 */
function arcOnParentCycle(network: Network, parentArc: Int32Array): number {
  const seenIn = seenScratch(network);
  for (let start = 0; start < parentArc.length; start += 1) {
    let node = start;
    while (seenIn[node] === 0) {
      seenIn[node] = start + 1;
      const arc = indexAt(parentArc, node);
      if (arc === NO_ARC) break;
      node = indexAt(network.arcTail, arc);
    }
    const arc = indexAt(parentArc, node);
    if (arc !== NO_ARC && seenIn[node] === start + 1) return arc;
  }
  return NO_ARC;
}
