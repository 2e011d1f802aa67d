/** Earliest, latest and slack with facts fixed, against a plain Floyd-Warshall of the situation. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compileNetwork } from '../../src/temporal/compile-network.ts';
import { explainConflict } from '../../src/temporal/conflict.ts';
import type { Conflict, Constraint } from '../../src/temporal/constraint.ts';
import { rangeOf, type Solution, solve } from '../../src/temporal/solve.ts';
import { keepableNetwork, wildSituation } from './arbitraries.ts';
import { floydWarshall, situation } from './floyd-warshall.ts';

const without = (edges: readonly Constraint[], conflicts: readonly Conflict[]): Constraint[] =>
  edges.map(({ from, to, minMs, maxMs }, edge) => {
    const isGone = (side: 'min' | 'max'): boolean =>
      conflicts.some(({ blamed }) => blamed.edge === edge && blamed.side === side);
    return {
      from,
      to,
      ...(minMs === undefined || isGone('min') ? {} : { minMs }),
      ...(maxMs === undefined || isGone('max') ? {} : { maxMs }),
    };
  });

function expectRangesOfWitness(solution: Solution, edges: readonly Constraint[]): void {
  const { fixedAtMs, nowMs } = solution;
  const { nodes } = solution.network;
  const fixed = new Map<string, number>();
  nodes.forEach((id, index) => {
    const atMs = fixedAtMs[index] ?? Number.NaN;
    if (!Number.isNaN(atMs)) fixed.set(id, atMs);
  });
  const all = ['origin', ...nodes];
  const witness = floydWarshall(all, [...edges, ...situation(nodes, fixed, nowMs)]);
  expect(witness.isConsistent).toBe(true);
  nodes.forEach((id, index) => {
    const range = rangeOf(solution, id);
    expect(range.earliestMs).toBe(0 - witness.at(index + 1, 0));
    expect(range.latestMs).toBe(witness.at(0, index + 1));
    expect(range.slackMs).toBe(range.latestMs - range.earliestMs);
    expect(range.slackMs).toBeGreaterThanOrEqual(0);
  });
}

/** The sum of a conflict's bounds, worked out from the constraints themselves. */
function shortOf(
  conflict: Conflict,
  from: {
    edges: readonly Constraint[];
    nodes: readonly string[];
    fixed: ReadonlyMap<string, number>;
    nowMs: number;
  },
): number {
  const end = (id: string, edge: Constraint, side: 'min' | 'max'): string =>
    side === 'min' ? (id === 'low' ? edge.from : edge.to) : id === 'low' ? edge.to : edge.from;
  const links = conflict.parts.map(({ edge, side }) => {
    const constraint = from.edges[edge];
    if (constraint === undefined) throw new Error(`no constraint ${edge}`);
    const gain = side === 'min' ? constraint.minMs : 0 - (constraint.maxMs ?? Number.NaN);
    return {
      low: end('low', constraint, side),
      high: end('high', constraint, side),
      gain: gain ?? Number.NaN,
    };
  });
  links.slice(1).forEach((link, index) => {
    expect(link.low).toBe(links[index]?.high);
  });
  const gain = links.reduce((sum, link) => sum + link.gain, 0);
  const first = links[0]?.low ?? '';
  const last = links.at(-1)?.high ?? '';
  if (conflict.anchors === null) {
    expect(first).toBe(last);
    return gain;
  }
  const { lower, upper } = conflict.anchors;
  expect(from.nodes[lower.node]).toBe(first);
  expect(from.nodes[upper.node]).toBe(last);
  const startMs = lower.because === 'fixed' ? from.fixed.get(first) : from.nowMs;
  return (startMs ?? Number.NaN) + gain - (from.fixed.get(last) ?? Number.NaN);
}

describe('solve against a plain Floyd-Warshall', () => {
  it('gives the exact earliest and latest of every moment when all bounds can be kept', () => {
    fc.assert(
      fc.property(keepableNetwork, fc.infiniteStream(fc.boolean()), (drawn, coin) => {
        // Facts from a schedule that keeps everything; now at the last of them.
        const { nodes, edges, times } = drawn;
        const nowMs = 50;
        const happened = nodes.filter((_, i) => (times[i] ?? 0) < nowMs);
        const fixed = new Map(happened.map((id) => [id, times[nodes.indexOf(id)] ?? 0]));
        const ahead = nodes.filter((id) => !fixed.has(id) && coin.next().value);
        for (const id of ahead) fixed.set(id, times[nodes.indexOf(id)] ?? 0);
        const network = compileNetwork({ nodes, edges });
        const solution = solve({ network, fixed, nowMs, onBroken: 'relax' });
        expect(solution.broken).toEqual([]);
        expectRangesOfWitness(solution, edges);
      }),
      { numRuns: 500, seed: 1 },
    );
  });

  it('reports a conflict exactly when the situation has one', () => {
    const verdicts = { kept: 0, broken: 0 };
    fc.assert(
      fc.property(wildSituation, ({ nodes, edges, fixed, nowMs }) => {
        const network = compileNetwork({ nodes, edges });
        const solution = solve({ network, fixed, nowMs, onBroken: 'report' });
        const all = ['origin', ...nodes];
        const witness = floydWarshall(all, [...edges, ...situation(nodes, fixed, nowMs)]);
        expect(solution.conflicts.length === 0).toBe(witness.isConsistent);
        verdicts[witness.isConsistent ? 'kept' : 'broken'] += 1;
        if (witness.isConsistent) return expectRangesOfWitness(solution, edges);
        expect(solution.conflicts).toHaveLength(1);
        expect(solution.earliestMs.every(Number.isNaN)).toBe(true);
      }),
      { numRuns: 1000, seed: 2 },
    );
    expect(verdicts.kept).toBeGreaterThan(100);
    expect(verdicts.broken).toBeGreaterThan(100);
  });

  it('goes on without the broken bounds and honours all others', () => {
    fc.assert(
      fc.property(wildSituation, ({ nodes, edges, fixed, nowMs }) => {
        const network = compileNetwork({ nodes, edges });
        const solution = solve({ network, fixed, nowMs, onBroken: 'relax' });
        expectRangesOfWitness(solution, without(edges, solution.conflicts));
        const blamed = new Set(solution.conflicts.map((conflict) => conflict.blamed.edge));
        expect(new Set(solution.broken)).toEqual(blamed);
        expect([...solution.broken]).toEqual([...blamed].sort((a, b) => a - b));
      }),
      { numRuns: 1500, seed: 3 },
    );
  });

  it('proves each broken bound by a chain of bounds that is short by what it says', () => {
    fc.assert(
      fc.property(wildSituation, (drawn) => {
        const network = compileNetwork(drawn);
        const { conflicts } = solve({ ...drawn, network, onBroken: 'relax' });
        for (const conflict of conflicts) {
          expect(conflict.shortByMs).toBeGreaterThan(0);
          expect(shortOf(conflict, drawn)).toBe(conflict.shortByMs);
          expect(conflict.parts).toContainEqual(conflict.blamed);
        }
      }),
      { numRuns: 1000, seed: 4 },
    );
  });

  it('gives up no minimum when the minima alone can be kept', () => {
    let maximaOnly = 0;
    fc.assert(
      fc.property(wildSituation, ({ nodes, edges, fixed, nowMs }) => {
        const minima = edges.map(
          ({ from, to, minMs }): Constraint => ({
            from,
            to,
            ...(minMs === undefined ? {} : { minMs }),
          }),
        );
        const all = ['origin', ...nodes];
        const witness = floydWarshall(all, [...minima, ...situation(nodes, fixed, nowMs)]);
        if (!witness.isConsistent) return;
        const network = compileNetwork({ nodes, edges });
        const { conflicts } = solve({ network, fixed, nowMs, onBroken: 'relax' });
        if (conflicts.length > 0) maximaOnly += 1;
        expect(conflicts.every((conflict) => conflict.blamed.side === 'max')).toBe(true);
      }),
      { numRuns: 1500, seed: 5 },
    );
    expect(maximaOnly).toBeGreaterThan(100);
  });

  it('agrees on a network of 120 moments', () => {
    const draw = fc.record({
      gaps: fc.array(fc.nat(40), { minLength: 120, maxLength: 120 }),
      pairs: fc.array(fc.tuple(fc.nat(119), fc.nat(119), fc.nat(300), fc.nat(300)), {
        minLength: 300,
        maxLength: 300,
      }),
    });
    fc.assert(
      fc.property(draw, ({ gaps, pairs }) => {
        const nodes = gaps.map((_, index) => `m${index}`);
        const times = gaps.map((_, index) => gaps.slice(0, index + 1).reduce((a, b) => a + b, 0));
        const edges = pairs.map(([f, t, under, over]): Constraint => {
          const gap = (times[t] ?? 0) - (times[f] ?? 0);
          return { from: `m${f}`, to: `m${t}`, minMs: gap - under, maxMs: gap + over };
        });
        const fixed = new Map(nodes.slice(0, 40).map((id, index) => [id, times[index] ?? 0]));
        const network = compileNetwork({ nodes, edges });
        const nowMs = times[40] ?? 0;
        expectRangesOfWitness(solve({ network, fixed, nowMs, onBroken: 'report' }), edges);
      }),
      { numRuns: 8, seed: 6 },
    );
  });
});

describe('a surface that must be rinsed in time', () => {
  // Invented figures. A gel may stay 15 to 30 s; rinsing takes at least 10 s.
  const nodes = ['gel-on', 'rinse', 'rinsed', 'dry'];
  const edges: Constraint[] = [
    { from: 'gel-on', to: 'rinse', minMs: 15_000, maxMs: 30_000 },
    { from: 'rinse', to: 'rinsed', minMs: 10_000 },
    { from: 'rinsed', to: 'dry', minMs: 0 },
    { from: 'gel-on', to: 'dry', maxMs: 60_000 },
  ];
  const network = compileNetwork({ nodes, edges });
  const at = (fixed: [string, number][], nowMs: number) =>
    solve({ network, fixed: new Map(fixed), nowMs, onBroken: 'relax' });

  it('gives the room that is left before each moment', () => {
    const solution = at([['gel-on', 0]], 5_000);
    expect(rangeOf(solution, 'rinse')).toEqual({
      earliestMs: 15_000,
      latestMs: 30_000,
      slackMs: 15_000,
    });
    expect(rangeOf(solution, 'rinsed')).toMatchObject({ earliestMs: 25_000, latestMs: 60_000 });
  });

  it('calls the window broken the moment now has passed its end, and not before', () => {
    expect(at([['gel-on', 0]], 30_000).broken).toEqual([]);
    const late = at([['gel-on', 0]], 30_001);
    expect(late.broken).toEqual([0]);
    expect(rangeOf(late, 'rinse')).toMatchObject({ earliestMs: 30_001, latestMs: 50_000 });
  });

  it('calls a longer window broken as soon as the work left does not fit any more', () => {
    expect(at([['gel-on', 0]], 50_000).broken).toEqual([0]);
    expect(at([['gel-on', 0]], 50_001).broken).toEqual([0, 3]);
  });

  it('keeps a fact that came too early, and says so', () => {
    const facts: [string, number][] = [
      ['gel-on', 0],
      ['rinse', 9_000],
    ];
    const solution = at(facts, 9_000);
    expect(solution.broken).toEqual([0]);
    expect(solution.conflicts[0]?.blamed).toEqual({ edge: 0, side: 'min' });
    expect(rangeOf(solution, 'rinsed').earliestMs).toBe(19_000);
  });

  it('copes with a step that was passed over', () => {
    const facts: [string, number][] = [
      ['gel-on', 0],
      ['rinsed', 20_000],
    ];
    const solution = at(facts, 20_000);
    expect(solution.broken).toEqual([1]);
    expect(rangeOf(solution, 'dry')).toMatchObject({ earliestMs: 20_000, latestMs: 60_000 });
  });

  it('explains a conflict as edges, their roles and the time that is missing', () => {
    const { conflicts } = at([['gel-on', 0]], 50_001);
    const longer = conflicts.find((conflict) => conflict.blamed.edge === 3);
    if (longer === undefined) throw new Error('the longer window should be broken');
    expect(explainConflict({ network, conflict: longer })).toEqual({
      edges: [1, 2, 3],
      shortByMs: 1,
      steps: [
        { edge: 1, side: 'min', from: 'rinse', to: 'rinsed', boundMs: 10_000, isBlamed: false },
        { edge: 2, side: 'min', from: 'rinsed', to: 'dry', boundMs: 0, isBlamed: false },
        { edge: 3, side: 'max', from: 'gel-on', to: 'dry', boundMs: 60_000, isBlamed: true },
      ],
      between: {
        lower: { moment: 'rinse', because: 'now' },
        upper: { moment: 'gel-on' },
      },
    });
  });

  it('keeps the nearer of two deadlines that cannot both be kept', () => {
    const tight = compileNetwork({
      nodes: ['mix', 'seat', 'clean'],
      edges: [
        { from: 'mix', to: 'seat', maxMs: 30 },
        { from: 'seat', to: 'clean', maxMs: 30 },
        { from: 'mix', to: 'clean', minMs: 70 },
      ],
    });
    const fixed = new Map([['mix', 0]]);
    const solution = solve({ network: tight, fixed, nowMs: 0, onBroken: 'relax' });
    expect(solution.broken).toEqual([1]);
    expect(rangeOf(solution, 'seat').latestMs).toBe(30);
  });
});

/**
 * The order in which bounds give way, as `solve` states it; each row by hand. "mix" is at 0 throughout.
 * Where several could go, all that is left is kept: the latest moments show it.
 */
describe('who is blamed', () => {
  const window = (from: string, to: string, maxMs: number): Constraint => ({ from, to, maxMs });
  const work = (from: string, to: string, minMs: number): Constraint => ({ from, to, minMs });

  it.each<{
    readonly because: string;
    readonly edges: readonly Constraint[];
    readonly fixed?: readonly [string, number][];
    readonly chain: string;
    readonly blamed: string;
    readonly shortByMs: number;
  }>([
    {
      because: 'of three windows in a row the one farthest in the future',
      edges: [
        window('mix', 'a', 20),
        window('a', 'b', 20),
        window('b', 'c', 20),
        work('mix', 'c', 70),
      ],
      chain: 'min mix-c, max b-c, max a-b, max mix-a',
      blamed: 'max b-c',
      shortByMs: 10,
    },
    {
      because: 'a window before any work, however late on the way it comes',
      edges: [
        window('mix', 'a', 20),
        work('b', 'a', 30),
        work('mix', 'b', 0),
        window('b', 'c', 90),
      ],
      chain: 'min b-a, max mix-a',
      blamed: 'max mix-a',
      shortByMs: 10,
    },
    {
      because: 'without a window the last work before the moment that was fixed',
      edges: [work('mix', 'a', 20), work('a', 'b', 20), work('b', 'done', 20)],
      fixed: [['done', 50]],
      chain: 'min mix-a, min a-b, min b-done',
      blamed: 'min b-done',
      shortByMs: 10,
    },
  ])('$because', ({ edges, fixed = [], chain, blamed, shortByMs }) => {
    const nodes = [...new Set(edges.flatMap(({ from, to }) => [from, to]))];
    const network = compileNetwork({ nodes, edges });
    const facts = new Map<string, number>([['mix', 0], ...fixed]);
    const { conflicts } = solve({ network, fixed: facts, nowMs: 0, onBroken: 'relax' });
    const told = conflicts.map((conflict) => {
      const { steps, shortByMs } = explainConflict({ network, conflict });
      const texts = steps.map(({ side, from, to }) => `${side} ${from}-${to}`);
      const at = steps.flatMap(({ isBlamed }, i) => (isBlamed ? [texts[i]] : []));
      return { chain: texts.join(', '), blamed: at.join(', '), shortByMs };
    });
    expect(told).toEqual([{ chain, blamed, shortByMs }]);
  });
});

describe('what gives way', () => {
  const relaxed = (
    nodes: string[],
    edges: Constraint[],
    fixed: [string, number][],
    nowMs: number,
  ) =>
    solve({
      network: compileNetwork({ nodes, edges }),
      fixed: new Map(fixed),
      nowMs,
      onBroken: 'relax',
    });

  it('is the window that is out of reach by itself, not a later one tied to it', () => {
    const edges: Constraint[] = [
      { from: 'mix', to: 'seat', minMs: 40, maxMs: 30 },
      { from: 'seat', to: 'clean', minMs: 0, maxMs: 5 },
      { from: 'mix', to: 'clean', minMs: 50 },
    ];
    const solution = relaxed(['mix', 'seat', 'clean'], edges, [['mix', 0]], 0);
    expect(solution.broken).toEqual([0]);
    expect(rangeOf(solution, 'seat').earliestMs).toBe(45);
  });

  it('is explained by now alone when a pending moment has been overtaken', () => {
    const edges: Constraint[] = [
      { from: 'etched', to: 'primed', minMs: 5 },
      { from: 'primed', to: 'bonded', minMs: 0 },
    ];
    const nodes = ['etched', 'primed', 'bonded'];
    const { conflicts } = relaxed(nodes, edges, [['bonded', 20]], 21);
    expect(conflicts.map(({ parts, shortByMs }) => ({ parts, shortByMs }))).toEqual([
      { parts: [{ edge: 1, side: 'min' }], shortByMs: 1 },
    ]);
  });

  it('is one bound for each contradiction of a network that nothing has happened in', () => {
    const edges: Constraint[] = [
      { from: 'a', to: 'b', minMs: 10 },
      { from: 'b', to: 'c', minMs: 10 },
      { from: 'a', to: 'c', maxMs: 15 },
      { from: 'd', to: 'd', minMs: 1 },
    ];
    const { broken, conflicts } = relaxed(['a', 'b', 'c', 'd'], edges, [], 0);
    expect(broken).toEqual([2, 3]);
    expect(conflicts.map(({ anchors, shortByMs }) => ({ anchors, shortByMs }))).toContainEqual({
      anchors: null,
      shortByMs: 5,
    });
  });
});

describe('the order in time', () => {
  it('follows what must come first, whichever way the moments are listed', () => {
    // A bound of a moment on itself says nothing of its place among the others.
    const { order } = compileNetwork({
      nodes: ['last', 'middle', 'first'],
      edges: [
        { from: 'first', to: 'first', minMs: 0, maxMs: 5 },
        { from: 'first', to: 'middle', minMs: 0 },
        { from: 'middle', to: 'last', minMs: 1, maxMs: 9 },
      ],
    });
    expect([...order]).toEqual([2, 1, 0]);
  });
});

describe('programming errors', () => {
  const edges: Constraint[] = [{ from: 'a', to: 'b', minMs: 1 }];
  it('throw: a moment named twice, an unknown moment, a time that is not a number', () => {
    expect(() => compileNetwork({ nodes: ['a', 'a'], edges: [] })).toThrow(/twice/);
    expect(() => compileNetwork({ nodes: ['a'], edges })).toThrow(/moment b/);
    const network = compileNetwork({ nodes: ['a', 'b'], edges });
    const relax = { network, onBroken: 'relax' as const };
    expect(() => solve({ ...relax, fixed: new Map([['c', 1]]), nowMs: 0 })).toThrow(/moment c/);
    expect(() => solve({ ...relax, fixed: new Map(), nowMs: Number.NaN })).toThrow(/now/);
    expect(() => solve({ ...relax, fixed: new Map([['a', Infinity]]), nowMs: 0 })).toThrow(
      /finite/,
    );
  });
});
