/**
 * Puts bounds given as decimals onto whole numbers, so that sums along a path are exact and a
 * cycle such as 0.1 + 0.2 - 0.3 is not taken for a negative one because of binary rounding.
 */

import type { Constraint } from './constraint.ts';

/** Constraints in whole units of `unit`, and the way back. */
interface WholeNumbers {
  readonly constraints: readonly Constraint[];
  readonly toOriginal: (whole: number) => number;
}

const DECIMALS_MAX = 15;

/**
 * Scales all bounds by the smallest power of ten that makes them whole. Where there is none that
 * keeps path sums over `nodeCount` nodes exact, bounds are loosened to the next step of a binary
 * grid at least a billion times finer than the largest bound (for networks of up to a million
 * moments), never tightened.
 */
export function toWholeNumbers(input: {
  readonly constraints: readonly Constraint[];
  readonly nodeCount: number;
}): WholeNumbers {
  const { constraints, nodeCount } = input;
  const sizes = constraints.flatMap((c) => [Math.abs(c.minMs ?? 0), Math.abs(c.maxMs ?? 0)]);
  const largest = sizes.reduce((a, b) => Math.max(a, b), 0);
  // Potentials and reduced costs add at most three path lengths; four leaves room.
  const room = 4 * Math.max(nodeCount, 1);
  const factor = decimalFactor(sizes, largest * room);
  if (factor !== null) {
    const scale = (bound: number): number => Math.round(bound * factor);
    return {
      constraints: constraints.map((c) => scaled(c, { min: scale, max: scale })),
      toOriginal: (whole) => whole / factor,
    };
  }
  const exponent = Math.ceil(Math.log2(largest) + Math.log2(room)) - 53;
  const grid = 2 ** Math.max(exponent, -1074);
  const scales = {
    min: (bound: number): number => Math.floor(bound / grid),
    max: (bound: number): number => Math.ceil(bound / grid),
  };
  return {
    constraints: constraints.map((c) => scaled(c, scales)),
    toOriginal: (whole) => whole * grid,
  };
}

function decimalFactor(sizes: readonly number[], reach: number): number | null {
  for (let decimals = 0; decimals <= DECIMALS_MAX; decimals += 1) {
    const factor = 10 ** decimals;
    if (!(reach * factor <= Number.MAX_SAFE_INTEGER)) return null;
    if (sizes.every((size) => Math.round(size * factor) / factor === size)) return factor;
  }
  return null;
}

function scaled(
  constraint: Constraint,
  scales: { readonly min: (bound: number) => number; readonly max: (bound: number) => number },
): Constraint {
  const { from, to, minMs, maxMs } = constraint;
  return {
    from,
    to,
    ...(minMs === undefined ? {} : { minMs: scales.min(minMs) }),
    ...(maxMs === undefined ? {} : { maxMs: scales.max(maxMs) }),
  };
}
