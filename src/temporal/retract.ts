/**
 * Takes back what one arc has done to the earliest moments, so that a search that gives up a
 * bound goes on from where it is instead of starting again. With a thousand bounds broken at once
 * that is the difference between a few milliseconds and a few dozen.
 */

import type { Network } from './compile-network.ts';
import { NO_ARC } from './propagate.ts';
import { indexAt, realAt } from './typed-array.ts';

/** The running state of a search, changed in place. */
export interface RaiseState {
  readonly earliestMs: Float64Array;
  readonly parentArc: Int32Array;
  readonly dirty: Uint8Array;
}

/**
 * Puts every moment that was raised by way of `arc` back to its value at the `start` of the
 * search, and marks what has to be looked at again.
 */
export function retractArc(
  network: Network,
  work: { readonly state: RaiseState; readonly start: RaiseState; readonly arc: number },
): void {
  const { state, start, arc } = work;
  const head = indexAt(network.arcHead, arc);
  if (indexAt(state.parentArc, head) !== arc) return;
  for (const node of raisedBy(network, state.parentArc, head)) {
    state.earliestMs[node] = realAt(start.earliestMs, node);
    state.parentArc[node] = indexAt(start.parentArc, node);
    // Others may hold a smaller claim on this moment that was not worth noting before.
    const end = indexAt(network.inStart, node + 1);
    for (let slot = indexAt(network.inStart, node); slot < end; slot += 1) {
      state.dirty[indexAt(network.arcTail, indexAt(network.inArc, slot))] = 1;
    }
  }
}

/** `root` and all moments whose parent links lead to it. */
function raisedBy(network: Network, parentArc: Int32Array, root: number): number[] {
  const firstChild = new Int32Array(parentArc.length).fill(-1);
  const nextChild = new Int32Array(parentArc.length).fill(-1);
  for (let node = 0; node < parentArc.length; node += 1) {
    const arc = indexAt(parentArc, node);
    // Leaving the root out of the children also opens a cycle of links through it.
    if (arc === NO_ARC || node === root) continue;
    const parent = indexAt(network.arcTail, arc);
    nextChild[node] = indexAt(firstChild, parent);
    firstChild[parent] = node;
  }
  const found = [root];
  for (let done = 0; done < found.length; done += 1) {
    let child = indexAt(firstChild, found[done] ?? -1);
    for (; child >= 0; child = indexAt(nextChild, child)) found.push(child);
  }
  return found;
}
