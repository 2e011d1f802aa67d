/**
 * Finds and describes the negative cycle behind bounds that cannot be kept. A negative cycle is
 * a proof: summed up, its bounds ask a moment to come before itself (Dechter, Meiri & Pearl
 * 1991, theorem 3.1, there credited to Shostak, Liao & Wong, and Leiserson & Saxe).
 */

import { assert, present } from '../base/assert.ts';
import { boundOfArc, type Network } from './compile-network.ts';
import type { Anchors, BoundRef, Conflict } from './constraint.ts';
import { type Bounds, NO_ARC } from './propagate.ts';
import { indexAt, realAt } from './typed-array.ts';

/** A conflict with everything that words about it need, moments by name. */
export interface Explanation {
  /** Indexes of the constraints on the cycle, in cycle order, each once. */
  readonly edges: readonly number[];
  /** How much all of them together are short, above 0. */
  readonly shortByMs: number;
  readonly steps: readonly ExplanationStep[];
  /** What the chain starts from and runs into; null when no fixed moment is involved. */
  readonly between: {
    readonly lower: { readonly moment: string; readonly because: 'fixed' | 'now' };
    readonly upper: { readonly moment: string };
  } | null;
}

/** One bound of the cycle and the part it plays. */
interface ExplanationStep extends BoundRef {
  readonly from: string;
  readonly to: string;
  readonly boundMs: number;
  /** True for the bound that is given up when work goes on. */
  readonly isBlamed: boolean;
}

/** Spells `conflict` out: its edges, their roles, and the missing amount. */
export function explainConflict(input: {
  readonly network: Network;
  readonly conflict: Conflict;
}): Explanation {
  const { network, conflict } = input;
  const nameOf = (node: number): string => present(network.nodes[node], `node ${node}`);
  const steps = conflict.parts.map((part) => {
    const edge = present(network.edges[part.edge], `edge ${part.edge}`);
    const boundMs = present(part.side === 'min' ? edge.minMs : edge.maxMs, 'bound of a conflict');
    const isBlamed = part.edge === conflict.blamed.edge && part.side === conflict.blamed.side;
    return { ...part, from: edge.from, to: edge.to, boundMs, isBlamed };
  });
  const { anchors } = conflict;
  return {
    edges: edgesOf(conflict),
    shortByMs: conflict.shortByMs,
    steps,
    between: anchors && {
      lower: { moment: nameOf(anchors.lower.node), because: anchors.lower.because },
      upper: { moment: nameOf(anchors.upper.node) },
    },
  };
}

/** Indexes of the constraints in `conflict`, in cycle order, each once. */
export function edgesOf(conflict: Conflict): number[] {
  return [...new Set(conflict.parts.map((part) => part.edge))];
}

/**
 * The conflict that shows when following `stuckArc` would raise a fixed moment, or when
 * `stuckArc` lies on a cycle that raises itself, together with the arc to blame for it.
 */
export function traceConflict(
  bounds: Bounds,
  found: {
    readonly stuckArc: number;
    readonly parentArc: Int32Array;
    readonly nowMs: number;
  },
): { readonly conflict: Conflict; readonly blamedArc: number } {
  const { network, fixedAtMs } = bounds;
  const chain = chainTo(network, found);
  const gainMs = chain.arcs.reduce((sum, arc) => sum + realAt(network.arcGain, arc), 0);
  if (chain.isCycle) return describe(network, chain.arcs, gainMs, null);
  const upper = indexAt(network.arcHead, found.stuckArc);
  const lower = indexAt(network.arcTail, present(chain.arcs[0], 'first arc of a chain'));
  const lowerFixedAtMs = realAt(fixedAtMs, lower);
  const isLowerFixed = !Number.isNaN(lowerFixedAtMs);
  const startMs = isLowerFixed ? lowerFixedAtMs : found.nowMs;
  return describe(network, chain.arcs, startMs + gainMs - realAt(fixedAtMs, upper), {
    lower: { node: lower, because: isLowerFixed ? 'fixed' : 'now' },
    upper: { node: upper },
  });
}

/** Arcs from a root of the parent links to `stuckArc`, or those of a cycle met on the way. */
function chainTo(
  network: Network,
  found: { readonly stuckArc: number; readonly parentArc: Int32Array },
): { readonly arcs: readonly number[]; readonly isCycle: boolean } {
  const arcs: number[] = [];
  const placeOf = new Map<number, number>();
  let arc = found.stuckArc;
  while (arc !== NO_ARC) {
    const firstPlace = placeOf.get(arc);
    if (firstPlace !== undefined) return { arcs: arcs.slice(firstPlace).reverse(), isCycle: true };
    placeOf.set(arc, arcs.length);
    arcs.push(arc);
    arc = indexAt(found.parentArc, indexAt(network.arcTail, arc));
  }
  return { arcs: arcs.reverse(), isCycle: false };
}

function describe(
  network: Network,
  arcs: readonly number[],
  shortByMs: number,
  anchors: Anchors | null,
): { readonly conflict: Conflict; readonly blamedArc: number } {
  assert(shortByMs > 0, 'a conflict that is not short of anything');
  const blamedArc = blame(network, arcs);
  const parts = arcs.map((arc) => boundOfArc(network, arc));
  const blamed = boundOfArc(network, blamedArc);
  return { conflict: { parts, shortByMs, anchors, blamed }, blamedArc };
}

/**
 * Maxima give way before minima: a window can be missed, but work cannot take less time than it
 * takes. Of several maxima the one nearest to the lower end goes, the farthest in the future: the
 * deadline that comes first can still be kept, and keeps its urgency. Without a maximum, it is the
 * minimum that the fixed moment has overtaken.
 */
function blame(network: Network, arcs: readonly number[]): number {
  const firstMax = arcs.find((arc) => network.arcIsMax[arc] === 1);
  return firstMax ?? present(arcs.at(-1), 'last arc of a conflict');
}
