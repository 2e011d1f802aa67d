/**
 * The minimal network: the tightest bounds between every two moments that follow from a list of
 * constraints, or one negative cycle that shows why there are none. Numbers are just numbers: any
 * one unit for all bounds will do, and results are in that unit.
 *
 * Source: Dechter, Meiri & Pearl 1991 (see constraint.ts), section 3.
 */

import { present } from '../base/assert.ts';
import { compileNetwork } from './compile-network.ts';
import { edgesOf } from './conflict.ts';
import type { Constraint } from './constraint.ts';
import { allPairsMost } from './shortest-paths.ts';
import { solve } from './solve.ts';
import { realAt } from './typed-array.ts';
import { toWholeNumbers } from './whole-numbers.ts';

/** How much after `from` the moment `to` comes; null where nothing limits it. */
interface PairBounds {
  readonly min: number | null;
  readonly max: number | null;
}

export type MinimalNetwork =
  | {
      readonly consistent: true;
      /** All moments in the order in which the constraints first name them. */
      readonly nodes: readonly string[];
      /** Tightest bounds of a pair; a name that no constraint has throws. */
      readonly bounds: (pair: { readonly from: string; readonly to: string }) => PairBounds;
    }
  | {
      readonly consistent: false;
      /** Indexes of the constraints on one negative cycle, in cycle order, each once. */
      readonly conflict: readonly number[];
      /** By how much that cycle is short, above 0. */
      readonly shortBy: number;
    };

/**
 * Works out the minimal network of `constraints`. Bounds must be finite numbers or absent
 * (anything else throws; outside data is checked before). A constraint with its minimum above its
 * maximum is a conflict of one. Decimals are exact up to fifteen places where path sums fit into
 * 53 bits; beyond that, bounds may come out wider by a rounding step, never narrower.
 */
export function minimalNetwork(constraints: readonly Constraint[]): MinimalNetwork {
  const crossed = constraints.findIndex(
    (c) => c.minMs !== undefined && c.maxMs !== undefined && c.minMs > c.maxMs,
  );
  if (crossed >= 0) {
    const { minMs = 0, maxMs = 0 } = present(constraints[crossed], 'crossed constraint');
    return { consistent: false, conflict: [crossed], shortBy: minMs - maxMs };
  }
  const nodes = [...new Set(constraints.flatMap((c) => [c.from, c.to]))];
  const whole = toWholeNumbers({ constraints, nodeCount: nodes.length });
  const network = compileNetwork({ nodes, edges: whole.constraints });
  const schedule = solve({ network, fixed: new Map(), nowMs: 0, onBroken: 'report' });
  const conflict = schedule.conflicts[0];
  if (conflict !== undefined) {
    const shortBy = whole.toOriginal(conflict.shortByMs);
    return { consistent: false, conflict: edgesOf(conflict), shortBy };
  }
  const most = allPairsMost(network, schedule.earliestMs);
  const mostBetween = (from: string, to: string): number | null => {
    const row = present(network.indexOf.get(from), `moment ${from}`) * nodes.length;
    const whole = realAt(most, row + present(network.indexOf.get(to), `moment ${to}`));
    return whole === Infinity ? null : whole;
  };
  // Adding 0 turns -0, which prints oddly and compares oddly, into 0.
  const shown = (amount: number | null, sign: 1 | -1): number | null =>
    amount === null ? null : whole.toOriginal(sign * amount) + 0;
  return {
    consistent: true,
    nodes,
    bounds: ({ from, to }) => ({
      min: shown(mostBetween(to, from), -1),
      max: shown(mostBetween(from, to), 1),
    }),
  };
}
