/**
 * All-pairs shortest paths of a consistent network's distance graph: Johnson's method (Johnson,
 * Journal of the ACM 24:1-13, 1977). A feasible schedule serves as potential, so that Dijkstra's
 * algorithm, which wants no negative lengths, runs from every moment.
 */

import type { Network } from './compile-network.ts';
import { indexAt, realAt } from './typed-array.ts';

/**
 * Row-major matrix: entry `from * n + to` is the most by which `to` can come after `from`,
 * Infinity where nothing limits it. `scheduleMs` must keep every bound of `network`.
 */
export function allPairsMost(network: Network, scheduleMs: Float64Array): Float64Array {
  const count = network.nodes.length;
  const most = new Float64Array(count * count).fill(Infinity);
  const reducedMs = reducedLengths(network, scheduleMs);
  const heap = new MomentHeap(network.arcCount + 1);
  for (let from = 0; from < count; from += 1) {
    const row = most.subarray(from * count, (from + 1) * count);
    dijkstra(network, { reducedMs, from, row, heap });
    const shiftMs = realAt(scheduleMs, from);
    for (let to = 0; to < count; to += 1) {
      row[to] = realAt(row, to) + realAt(scheduleMs, to) - shiftMs;
    }
  }
  return most;
}

/** Length of each arc, walked from head to tail, after the shift by the schedule: never below 0. */
function reducedLengths(network: Network, scheduleMs: Float64Array): Float64Array {
  return network.arcGain.map((gain, arc) => {
    const head = realAt(scheduleMs, indexAt(network.arcHead, arc));
    const tail = realAt(scheduleMs, indexAt(network.arcTail, arc));
    return head - tail - gain;
  });
}

function dijkstra(
  network: Network,
  work: {
    readonly reducedMs: Float64Array;
    readonly from: number;
    readonly row: Float64Array;
    readonly heap: MomentHeap;
  },
): void {
  const { reducedMs, row, heap } = work;
  row[work.from] = 0;
  heap.push(work.from, 0);
  while (heap.size > 0) {
    const farMs = heap.topKey();
    const node = heap.pop();
    // An older, longer entry of a node that has been settled since.
    if (farMs > realAt(row, node)) continue;
    const end = indexAt(network.inStart, node + 1);
    for (let slot = indexAt(network.inStart, node); slot < end; slot += 1) {
      const arc = indexAt(network.inArc, slot);
      const next = indexAt(network.arcTail, arc);
      const candidateMs = farMs + realAt(reducedMs, arc);
      if (candidateMs >= realAt(row, next)) continue;
      row[next] = candidateMs;
      heap.push(next, candidateMs);
    }
  }
}

/** A binary heap of nodes by distance, on arrays that are reused from one source to the next. */
class MomentHeap {
  size = 0;
  private readonly keys: Float64Array;
  private readonly nodes: Int32Array;

  constructor(capacity: number) {
    this.keys = new Float64Array(capacity);
    this.nodes = new Int32Array(capacity);
  }

  topKey(): number {
    return realAt(this.keys, 0);
  }

  push(node: number, key: number): void {
    let hole = this.size;
    this.size += 1;
    while (hole > 0) {
      const parent = (hole - 1) >> 1;
      if (realAt(this.keys, parent) <= key) break;
      this.keys[hole] = realAt(this.keys, parent);
      this.nodes[hole] = indexAt(this.nodes, parent);
      hole = parent;
    }
    this.keys[hole] = key;
    this.nodes[hole] = node;
  }

  pop(): number {
    const top = indexAt(this.nodes, 0);
    this.size -= 1;
    const key = realAt(this.keys, this.size);
    const node = indexAt(this.nodes, this.size);
    let hole = 0;
    for (;;) {
      let child = 2 * hole + 1;
      if (child >= this.size) break;
      if (child + 1 < this.size && realAt(this.keys, child + 1) < realAt(this.keys, child)) {
        child += 1;
      }
      if (realAt(this.keys, child) >= key) break;
      this.keys[hole] = realAt(this.keys, child);
      this.nodes[hole] = indexAt(this.nodes, child);
      hole = child;
    }
    this.keys[hole] = key;
    this.nodes[hole] = node;
    return top;
  }
}
