/** The minimal network against a plain Floyd-Warshall and an independent graph library. */
import { alg, Graph } from '@dagrejs/graphlib';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Constraint } from '../../src/temporal/constraint.ts';
import { minimalNetwork } from '../../src/temporal/minimal-network.ts';
import { keepableNetwork, wildNetwork } from './arbitraries.ts';
import { floydWarshall } from './floyd-warshall.ts';

const toNull = (most: number): number | null => (most === Infinity ? null : most);

/**
 * True when the named constraints close to a cycle with a negative sum. Conflicts are told from
 * the lower end upwards; the distance graph of the 1991 paper is walked the other way round. A
 * constraint that contradicts itself is walked forth and back.
 */
function isNegativeCycle(constraints: readonly Constraint[], conflict: readonly number[]): boolean {
  const c = constraints[conflict[0] ?? -1];
  if (c === undefined || new Set(conflict).size !== conflict.length) return false;
  const walk =
    conflict.length === 1 && c.from !== c.to ? [...conflict, ...conflict] : [...conflict].reverse();
  const homes = new Set(constraints.flatMap(({ from, to }) => [from, to]));
  return [...homes].some((home) => closesBelowZero(constraints, walk, home));
}

function closesBelowZero(
  constraints: readonly Constraint[],
  walk: readonly number[],
  home: string,
): boolean {
  let states = [{ at: home, sum: 0 }];
  for (const index of walk) {
    const { from, to, minMs, maxMs } = constraints[index] ?? { from: '', to: '' };
    states = states.flatMap(({ at, sum }) => [
      ...(maxMs !== undefined && from === at ? [{ at: to, sum: sum + maxMs }] : []),
      ...(minMs !== undefined && to === at ? [{ at: from, sum: sum - minMs }] : []),
    ]);
  }
  return states.some(({ at, sum }) => at === home && sum < 0);
}

/** All distances by the independent library, or null when it finds a negative cycle. */
function libraryDistances(constraints: readonly Constraint[]) {
  const graph = new Graph({ directed: true });
  // The library keeps one edge per pair here, so the tighter of parallel bounds is put in.
  const put = (v: string, w: string, length: number): void => {
    const known = graph.hasEdge(v, w) ? Number(graph.edge(v, w)) : Infinity;
    graph.setEdge(v, w, Math.min(known, length));
  };
  for (const { from, to, minMs, maxMs } of constraints) {
    graph.setNode(from).setNode(to);
    if (maxMs !== undefined) put(from, to, maxMs);
    if (minMs !== undefined) put(to, from, -minMs);
  }
  const distances = new Map<string, Map<string, number>>();
  for (const from of graph.nodes()) {
    try {
      const paths = alg.bellmanFord(graph, from, (edge) => Number(graph.edge(edge)));
      distances.set(from, new Map(Object.entries(paths).map(([to, p]) => [to, p.distance])));
    } catch (error) {
      if (error instanceof Error && /negative/i.test(error.message)) return null;
      throw error;
    }
  }
  return distances;
}

describe('minimal network', () => {
  it('agrees with a plain Floyd-Warshall on wild and on keepable networks', () => {
    fc.assert(
      fc.property(fc.oneof(wildNetwork, keepableNetwork), ({ edges }) => {
        const network = minimalNetwork(edges);
        const nodes = [...new Set(edges.flatMap((c) => [c.from, c.to]))];
        const witness = floydWarshall(nodes, edges);
        expect(network.consistent).toBe(witness.isConsistent);
        if (!network.consistent) return;
        expect(network.nodes).toEqual(nodes);
        for (const [i, from] of nodes.entries()) {
          for (const [j, to] of nodes.entries()) {
            const least = toNull(witness.at(j, i));
            expect(network.bounds({ from, to })).toEqual({
              min: least === null ? null : -least + 0,
              max: toNull(witness.at(i, j)),
            });
          }
        }
      }),
      { numRuns: 500, seed: 19911 },
    );
  });

  it('agrees with an independent shortest-path library on 500 random networks', () => {
    let consistent = 0;
    fc.assert(
      fc.property(fc.oneof(wildNetwork, keepableNetwork), ({ edges }) => {
        const network = minimalNetwork(edges);
        const distances = libraryDistances(edges);
        expect(network.consistent).toBe(distances !== null);
        if (!network.consistent || distances === null) return;
        consistent += 1;
        for (const [from, row] of distances) {
          for (const [to, distance] of row) {
            expect(network.bounds({ from, to }).max).toBe(toNull(distance));
          }
        }
      }),
      { numRuns: 500, seed: 49061 },
    );
    // Both verdicts have to occur often, or the agreement says little.
    expect(consistent).toBeGreaterThan(150);
    expect(consistent).toBeLessThan(450);
  });

  it('names a cycle whose sum is truly negative, each constraint once and in order', () => {
    let contradictions = 0;
    fc.assert(
      fc.property(wildNetwork, ({ edges }) => {
        const network = minimalNetwork(edges);
        if (network.consistent) return;
        contradictions += 1;
        expect(network.shortBy).toBeGreaterThan(0);
        expect(isNegativeCycle(edges, network.conflict)).toBe(true);
      }),
      { numRuns: 1000, seed: 4952 },
    );
    expect(contradictions).toBeGreaterThan(200);
  });

  it('takes a constraint with its minimum above its maximum as a conflict of one', () => {
    const conflict = minimalNetwork([
      { from: 'a', to: 'b', minMs: 1, maxMs: 2 },
      { from: 'b', to: 'c', minMs: 9, maxMs: 4 },
    ]);
    expect(conflict).toEqual({ consistent: false, conflict: [1], shortBy: 5 });
  });

  it('names that one constraint, even where a longer contradiction could be named instead', () => {
    const found = minimalNetwork([
      { from: 'a', to: 'b', minMs: 10 },
      { from: 'b', to: 'c', minMs: 10 },
      { from: 'a', to: 'c', maxMs: 15 },
      { from: 'd', to: 'e', minMs: 9, maxMs: 8 },
    ]);
    expect(found).toEqual({ consistent: false, conflict: [3], shortBy: 1 });
  });

  it('takes a moment that has to come after itself as a conflict of one', () => {
    const found = minimalNetwork([{ from: 'a', to: 'a', minMs: 3 }]);
    expect(found).toEqual({ consistent: false, conflict: [0], shortBy: 3 });
    expect(minimalNetwork([{ from: 'a', to: 'a', minMs: -3, maxMs: 3 }]).consistent).toBe(true);
  });

  it('leaves a side that nothing limits at null, and answers for no constraints at all', () => {
    const network = minimalNetwork([{ from: 'a', to: 'b', minMs: 2 }]);
    if (!network.consistent) throw new Error('should be consistent');
    expect(network.bounds({ from: 'a', to: 'b' })).toEqual({ min: 2, max: null });
    expect(network.bounds({ from: 'b', to: 'a' })).toEqual({ min: null, max: -2 });
    expect(minimalNetwork([])).toMatchObject({ consistent: true, nodes: [] });
  });

  it('does not mistake binary rounding of decimals for a contradiction', () => {
    // 0.1 + 0.2 is 0.30000000000000004 in binary, so naive sums see a cycle of -5.6e-17.
    const exactly = (from: string, to: string, gap: number): Constraint => ({
      from,
      to,
      minMs: gap,
      maxMs: gap,
    });
    const network = minimalNetwork([
      exactly('a', 'b', 0.1),
      exactly('b', 'c', 0.2),
      exactly('a', 'c', 0.3),
    ]);
    if (!network.consistent) throw new Error('should be consistent');
    expect(network.bounds({ from: 'a', to: 'c' })).toEqual({ min: 0.3, max: 0.3 });
    const thirds = [1, 2, 3].map((n) => exactly(`t${n}`, `t${n + 1}`, 1 / 3));
    expect(minimalNetwork([...thirds, exactly('t1', 't4', 1)]).consistent).toBe(true);
    const apart = minimalNetwork([exactly('a', 'b', 0.1), exactly('a', 'b', 0.1000001)]);
    expect(apart).toMatchObject({ consistent: false });
  });

  // By hand, in whole numbers of any length: 2 (2^53 - 1) + 1 = 2^54 - 1, which no double can hold.
  it('makes a bound that no double can hold wider, never narrower', () => {
    const gaps = [2 ** 53 - 1, 2 ** 53 - 1, 1];
    const chain = gaps.map((gap, i) => ({
      from: `m${i}`,
      to: `m${i + 1}`,
      minMs: gap,
      maxMs: gap,
    }));
    const network = minimalNetwork(chain);
    if (!network.consistent) throw new Error('should be consistent');
    const { min, max } = network.bounds({ from: 'm0', to: 'm3' });
    const sum = 2n ** 54n - 1n;
    expect(BigInt(min ?? 0) <= sum).toBe(true);
    expect(BigInt(max ?? 0) >= sum).toBe(true);
    expect((max ?? 0) - (min ?? 0)).toBeLessThanOrEqual(2 ** 54 / 1e9);
  });

  it('keeps doubles of any size within rounding of a plain Floyd-Warshall', () => {
    fc.assert(
      fc.property(
        keepableNetwork,
        fc.double({ min: 1e-6, max: 1e6, noNaN: true }),
        ({ edges }, scale) => {
          const grow = (v: number | undefined, by: number): number | undefined =>
            v === undefined ? undefined : v * scale + by;
          const scaledEdges = edges.map(({ from, to, minMs, maxMs }): Constraint => {
            const min = grow(minMs, -1e-9 * scale);
            const max = grow(maxMs, 1e-9 * scale);
            return {
              from,
              to,
              ...(min === undefined ? {} : { minMs: min }),
              ...(max === undefined ? {} : { maxMs: max }),
            };
          });
          const network = minimalNetwork(scaledEdges);
          if (!network.consistent) throw new Error('should be consistent');
          const witness = floydWarshall(network.nodes, scaledEdges);
          for (const [i, from] of network.nodes.entries()) {
            for (const [j, to] of network.nodes.entries()) {
              const max = network.bounds({ from, to }).max;
              if (max === null) expect(witness.at(i, j)).toBe(Infinity);
              else expect(Math.abs(max - witness.at(i, j))).toBeLessThanOrEqual(1e-10 * scale);
            }
          }
        },
      ),
      { numRuns: 200, seed: 5353 },
    );
  });

  it('refuses bounds that are not finite numbers as a programming error', () => {
    for (const bad of [Number.NaN, Infinity, -Infinity]) {
      expect(() => minimalNetwork([{ from: 'a', to: 'b', minMs: bad }])).toThrow(/finite/);
      expect(() => minimalNetwork([{ from: 'a', to: 'b', maxMs: bad }])).toThrow(/finite/);
    }
  });
});
