/**
 * Turns a list of constraints into typed arrays that can be swept without looking anything up.
 *
 * Every finite bound becomes one arc "head is at least gain after tail":
 * - minimum a of (from, to): `to >= from + a`, arc from -> to with gain a;
 * - maximum b of (from, to): `from >= to - b`, arc to -> from with gain -b.
 * Followed forwards, arcs raise earliest moments; followed backwards, they lower latest ones.
 */

import { assert, present } from '../base/assert.ts';
import type { BoundRef, Constraint } from './constraint.ts';
import { indexAt } from './typed-array.ts';

/** A compiled network. Arcs are sorted by tail, the minima of each tail before its maxima. */
export interface Network {
  readonly nodes: readonly string[];
  readonly edges: readonly Constraint[];
  readonly indexOf: ReadonlyMap<string, number>;
  readonly arcCount: number;
  readonly arcTail: Int32Array;
  readonly arcHead: Int32Array;
  /** Milliseconds, or whatever unit the constraints are in. */
  readonly arcGain: Float64Array;
  readonly arcEdge: Int32Array;
  /** 1 where the arc is a maximum. */
  readonly arcIsMax: Uint8Array;
  /** Arcs leaving node n: `outStart[n]` to `outStart[n + 1]`, its maxima from `outMaxStart[n]`. */
  readonly outStart: Int32Array;
  readonly outMaxStart: Int32Array;
  /** Arcs entering node n: `inArc[inStart[n]]` to `inArc[inStart[n + 1] - 1]`. */
  readonly inStart: Int32Array;
  readonly inArc: Int32Array;
  /** Nodes so that bounds lead from earlier to later entries, as far as they have no cycle. */
  readonly order: Int32Array;
}

interface Arc {
  readonly tail: number;
  readonly head: number;
  readonly gain: number;
  readonly edge: number;
  readonly isMax: 0 | 1;
}

/**
 * Compiles `nodes` and `edges`. Broken invariants (a node named twice, an edge that names an
 * unknown node, a bound that is not a finite number) throw: callers check outside data first.
 */
export function compileNetwork(input: {
  readonly nodes: readonly string[];
  readonly edges: readonly Constraint[];
}): Network {
  const { nodes, edges } = input;
  const indexOf = new Map(nodes.map((id, index) => [id, index]));
  assert(indexOf.size === nodes.length, 'a node is named twice');
  const arcs = edges.flatMap((edge, index) => arcsOf(edge, index, indexOf));
  arcs.sort((a, b) => a.tail - b.tail || a.isMax - b.isMax || a.edge - b.edge);
  const outStart = startsBy(
    nodes.length,
    arcs.map((arc) => arc.tail),
  );
  const inStart = startsBy(
    nodes.length,
    arcs.map((arc) => arc.head),
  );
  return {
    nodes,
    edges,
    indexOf,
    arcCount: arcs.length,
    arcTail: Int32Array.from(arcs, (arc) => arc.tail),
    arcHead: Int32Array.from(arcs, (arc) => arc.head),
    arcGain: Float64Array.from(arcs, (arc) => arc.gain),
    arcEdge: Int32Array.from(arcs, (arc) => arc.edge),
    arcIsMax: Uint8Array.from(arcs, (arc) => arc.isMax),
    outStart,
    outMaxStart: maxStarts(arcs, outStart),
    inStart,
    inArc: arcsByHead(arcs, inStart),
    order: orderInTime(arcs, nodes.length, outStart),
  };
}

/** The index of the node called `id`; a name that is not in the network throws. */
export function nodeIndex(network: Network, id: string): number {
  return present(network.indexOf.get(id), `moment ${id}`);
}

/** The bound that an arc stands for. */
export function boundOfArc(network: Network, arc: number): BoundRef {
  return { edge: indexAt(network.arcEdge, arc), side: network.arcIsMax[arc] === 1 ? 'max' : 'min' };
}

function arcsOf(edge: Constraint, index: number, indexOf: ReadonlyMap<string, number>): Arc[] {
  const from = present(indexOf.get(edge.from), `edge ${index}: moment ${edge.from}`);
  const to = present(indexOf.get(edge.to), `edge ${index}: moment ${edge.to}`);
  const arcs: Arc[] = [];
  if (edge.minMs !== undefined) {
    assert(Number.isFinite(edge.minMs), `edge ${index}: the minimum is not a finite number`);
    arcs.push({ tail: from, head: to, gain: edge.minMs, edge: index, isMax: 0 });
  }
  if (edge.maxMs !== undefined) {
    assert(Number.isFinite(edge.maxMs), `edge ${index}: the maximum is not a finite number`);
    arcs.push({ tail: to, head: from, gain: -edge.maxMs, edge: index, isMax: 1 });
  }
  return arcs;
}

/** Where each node's run begins when items are sorted by the node in `keys`. */
function startsBy(nodeCount: number, keys: readonly number[]): Int32Array {
  const starts = new Int32Array(nodeCount + 1);
  for (const key of keys) starts[key + 1] = indexAt(starts, key + 1) + 1;
  for (let n = 0; n < nodeCount; n += 1)
    starts[n + 1] = indexAt(starts, n + 1) + indexAt(starts, n);
  return starts;
}

function maxStarts(arcs: readonly Arc[], outStart: Int32Array): Int32Array {
  const starts = outStart.slice(0, -1);
  for (const arc of arcs) {
    if (arc.isMax === 0) starts[arc.tail] = indexAt(starts, arc.tail) + 1;
  }
  return starts;
}

function arcsByHead(arcs: readonly Arc[], inStart: Int32Array): Int32Array {
  const next = inStart.slice();
  const inArc = new Int32Array(arcs.length);
  arcs.forEach((arc, index) => {
    const slot = indexAt(next, arc.head);
    inArc[slot] = index;
    next[arc.head] = slot + 1;
  });
  return inArc;
}

/**
 * Topological order over the arcs that lead forwards (Kahn). Nodes on or behind a cycle of them
 * follow in the order given: the order only makes sweeps short, correctness does not rest on it.
 */
function orderInTime(arcs: readonly Arc[], nodeCount: number, outStart: Int32Array): Int32Array {
  const waiting = new Int32Array(nodeCount);
  for (const arc of arcs) {
    if (leadsForwards(arc)) waiting[arc.head] = indexAt(waiting, arc.head) + 1;
  }
  const order: number[] = [];
  for (let n = 0; n < nodeCount; n += 1) if (waiting[n] === 0) order.push(n);
  for (let done = 0; done < order.length; done += 1) {
    const tail = present(order[done], 'ordered node');
    for (let a = indexAt(outStart, tail); a < indexAt(outStart, tail + 1); a += 1) {
      const arc = present(arcs[a], 'arc');
      if (!leadsForwards(arc)) continue;
      const left = indexAt(waiting, arc.head) - 1;
      waiting[arc.head] = left;
      if (left === 0) order.push(arc.head);
    }
  }
  for (let n = 0; n < nodeCount; n += 1) if (indexAt(waiting, n) > 0) order.push(n);
  return Int32Array.from(order);
}

/** True for arcs whose head surely comes after the tail, or with it when a minimum of 0 says so. */
function leadsForwards(arc: Arc): boolean {
  return arc.gain > 0 || (arc.isMax === 0 && arc.gain === 0 && arc.tail !== arc.head);
}
