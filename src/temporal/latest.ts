/**
 * The latest moments of a network in which every bound can still be kept. That is the usual case, and it
 * is found without remembering which bound moved what: `solve.ts` is asked only where something has to
 * give way. Units as in `solve.ts`.
 */
import type { Network } from './compile-network.ts';
import { settleLatest, TOLERANCE_MS } from './propagate.ts';
import { indexAt, realAt } from './typed-array.ts';

/** More sweeps than this are left to the search that knows how to end. */
const SWEEPS_MAX = 16;

/** Room to count in, for each network once: a picture is made many times a second. */
const scratch = new WeakMap<Network, { earliestMs: Float64Array; noneOff: Uint8Array }>();

function scratchOf(network: Network) {
  const hit = scratch.get(network);
  if (hit) return hit;
  const made = {
    earliestMs: new Float64Array(network.nodes.length),
    noneOff: new Uint8Array(network.arcCount),
  };
  scratch.set(network, made);
  return made;
}

/** Follows every arc once; answers whether a moment was raised, or null where a fixed one would be. */
function sweep(
  network: Network,
  fixedAtMs: Float64Array,
  o: { readonly earliestMs: Float64Array; readonly isForward: boolean },
): boolean | null {
  const { order, outStart, arcHead, arcGain } = network;
  const { earliestMs, isForward } = o;
  const count = order.length;
  let isMoved = false;
  for (let k = 0; k < count; k += 1) {
    const node = indexAt(order, isForward ? k : count - 1 - k);
    const base = realAt(earliestMs, node);
    const end = indexAt(outStart, node + 1);
    for (let arc = indexAt(outStart, node); arc < end; arc += 1) {
      const head = indexAt(arcHead, arc);
      const candidate = base + realAt(arcGain, arc);
      if (!(candidate > realAt(earliestMs, head) + TOLERANCE_MS)) continue;
      if (!Number.isNaN(realAt(fixedAtMs, head))) return null;
      earliestMs[head] = candidate;
      isMoved = true;
    }
  }
  return isMoved;
}

/** Whether all bounds can be kept from here; false also where that takes long to tell. */
export function areAllKept(network: Network, fixedAtMs: Float64Array, nowMs: number): boolean {
  if (!Number.isFinite(nowMs)) return false;
  const { earliestMs } = scratchOf(network);
  for (let node = 0; node < earliestMs.length; node += 1) {
    const atMs = realAt(fixedAtMs, node);
    earliestMs[node] = Number.isNaN(atMs) ? nowMs : atMs;
  }
  for (let n = 0; n < SWEEPS_MAX; n += 1) {
    const isMoved = sweep(network, fixedAtMs, { earliestMs, isForward: n % 2 === 0 });
    if (isMoved === null) return false;
    if (!isMoved) return true;
  }
  return false;
}

/** The latest moments where {@link areAllKept}: they do not depend on now. */
export function latestOfAllKept(network: Network, fixedAtMs: Float64Array): Float64Array {
  return settleLatest({ network, fixedAtMs, isArcOff: scratchOf(network).noneOff });
}
