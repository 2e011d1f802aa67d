/** A plain Floyd-Warshall over constraints: the slow, obvious witness the fast code is held to. */
import type { Constraint } from '../../src/temporal/constraint.ts';

/**
 * `d[i][j]` = the most by which node j may come after node i. A negative entry on the diagonal
 * shows a contradiction.
 */
export function floydWarshall(nodes: readonly string[], constraints: readonly Constraint[]) {
  const n = nodes.length;
  const place = new Map(nodes.map((id, index) => [id, index]));
  const d = nodes.map((_, i) => nodes.map((_, j) => (i === j ? 0 : Infinity)));
  const lower = (i: number, j: number, to: number): void => {
    const row = d[i];
    if (row !== undefined && to < (row[j] ?? Number.NaN)) row[j] = to;
  };
  for (const { from, to, minMs, maxMs } of constraints) {
    const f = place.get(from) ?? -1;
    const t = place.get(to) ?? -1;
    if (maxMs !== undefined) lower(f, t, maxMs);
    if (minMs !== undefined) lower(t, f, 0 - minMs);
  }
  const at = (i: number, j: number): number => d[i]?.[j] ?? Number.NaN;
  for (let k = 0; k < n; k += 1) {
    for (let i = 0; i < n; i += 1) {
      for (let j = 0; j < n; j += 1) lower(i, j, at(i, k) + at(k, j));
    }
  }
  return { at, isConsistent: nodes.every((_, i) => at(i, i) >= 0) };
}

/**
 * The constraints of a situation on top of the network's own: a moment "origin" at 0, every fixed
 * moment exactly where it was, every other not before now.
 */
export function situation(
  nodes: readonly string[],
  fixed: ReadonlyMap<string, number>,
  nowMs: number,
): Constraint[] {
  return nodes.map((to): Constraint => {
    const atMs = fixed.get(to);
    return atMs === undefined
      ? { from: 'origin', to, minMs: nowMs }
      : { from: 'origin', to, minMs: atMs, maxMs: atMs };
  });
}
