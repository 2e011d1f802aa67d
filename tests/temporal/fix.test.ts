/** Carrying a solution forward gives exactly what solving from scratch gives. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compileNetwork } from '../../src/temporal/compile-network.ts';
import type { Constraint } from '../../src/temporal/constraint.ts';
import { advance, fix } from '../../src/temporal/fix.ts';
import { type Solution, solve } from '../../src/temporal/solve.ts';
import { keepableNetwork, wildNetwork } from './arbitraries.ts';

const shown = (solution: Solution) => ({
  nowMs: solution.nowMs,
  fixedAtMs: [...solution.fixedAtMs],
  earliestMs: [...solution.earliestMs],
  latestMs: [...solution.latestMs],
  broken: solution.broken,
  conflicts: solution.conflicts,
  isArcOff: [...solution.isArcOff],
});

/** Presses: which moment, how long after the press before, and how long it took to arrive. */
const presses = fc.array(
  fc.record({
    moment: fc.nat(9),
    afterMs: fc.integer({ min: 0, max: 12 }),
    lagMs: fc.integer({ min: 0, max: 3 }),
    isTick: fc.boolean(),
  }),
  { maxLength: 14 },
);

describe('fix and advance', () => {
  it('equal solving from scratch after every press, whatever is pressed when', () => {
    fc.assert(
      fc.property(
        fc.oneof(wildNetwork, keepableNetwork),
        presses,
        fc.constantFrom<'relax' | 'report'>('relax', 'report'),
        ({ nodes, edges }, pressed, onBroken) => {
          const network = compileNetwork({ nodes, edges });
          const fixed = new Map<string, number>();
          let nowMs = 0;
          let solution = solve({ network, fixed, nowMs, onBroken });
          for (const { moment, afterMs, lagMs, isTick } of pressed) {
            const atMs = nowMs + afterMs;
            nowMs = atMs + lagMs;
            const id = nodes[moment % nodes.length] ?? '';
            if (!isTick) fixed.set(id, atMs);
            const before = shown(solution);
            const next = isTick ? advance({ solution, nowMs }) : fix({ solution, id, atMs, nowMs });
            expect(shown(solution)).toEqual(before);
            solution = next;
            expect(shown(solution)).toEqual(shown(solve({ network, fixed, nowMs, onBroken })));
          }
        },
      ),
      { numRuns: 1500, seed: 77 },
    );
  });

  it('carry every press of kept work forward instead of starting over', () => {
    let carried = 0;
    let presses = 0;
    fc.assert(
      fc.property(keepableNetwork, ({ nodes, edges, times }) => {
        const network = compileNetwork({ nodes, edges });
        const inOrder = nodes
          .map((id, index) => ({ id, atMs: times[index] ?? 0 }))
          .sort((a, b) => a.atMs - b.atMs);
        const fixed = new Map<string, number>();
        let solution = solve({ network, fixed, nowMs: 0, onBroken: 'relax' });
        for (const { id, atMs } of inOrder) {
          const next = fix({ solution, id, atMs, nowMs: atMs });
          // A solution that was carried forward still shares what did not change.
          if (next.isArcOff === solution.isArcOff) carried += 1;
          presses += 1;
          fixed.set(id, atMs);
          solution = next;
          const scratch = solve({ network, fixed, nowMs: atMs, onBroken: 'relax' });
          expect(shown(solution)).toEqual(shown(scratch));
          expect(solution.broken).toEqual([]);
        }
      }),
      { numRuns: 300, seed: 78 },
    );
    expect(carried).toBe(presses);
  });

  it('go on being exact after a correction moves a fact', () => {
    const edges: Constraint[] = [
      { from: 'a', to: 'b', minMs: 10, maxMs: 20 },
      { from: 'b', to: 'c', minMs: 5, maxMs: 9 },
    ];
    const network = compileNetwork({ nodes: ['a', 'b', 'c'], edges });
    const relax = { network, onBroken: 'relax' as const };
    const start = solve({ ...relax, fixed: new Map([['a', 0]]), nowMs: 0 });
    const late = fix({ solution: start, id: 'b', atMs: 25, nowMs: 25 });
    expect(late.broken).toEqual([0]);
    const corrected = fix({ solution: late, id: 'b', atMs: 18, nowMs: 26 });
    expect(corrected.broken).toEqual([]);
    expect([...corrected.latestMs]).toEqual([0, 18, 27]);
  });

  it('start over when time is moved back', () => {
    const edges: Constraint[] = [{ from: 'a', to: 'b', minMs: 10, maxMs: 20 }];
    const network = compileNetwork({ nodes: ['a', 'b'], edges });
    const fixed = new Map([['a', 0]]);
    const later = solve({ network, fixed, nowMs: 15, onBroken: 'relax' });
    const back = advance({ solution: later, nowMs: 5 });
    expect([...back.earliestMs]).toEqual([0, 10]);
  });

  it('start over when a pending moment hangs on a bound that was given up', () => {
    const edges: Constraint[] = [
      { from: 'a', to: 'planned', maxMs: 10 },
      { from: 'a', to: 'done', minMs: 0 },
    ];
    const network = compileNetwork({ nodes: ['a', 'planned', 'done'], edges });
    const facts: [string, number][] = [
      ['planned', 100],
      ['done', 50],
    ];
    const relax = { network, onBroken: 'relax' as const, nowMs: 20 };
    const solution = solve({ ...relax, fixed: new Map(facts) });
    expect(solution.broken).toEqual([0]);
    const fixed = fix({ solution, id: 'a', atMs: 20, nowMs: 20 });
    const scratch = solve({ ...relax, fixed: new Map([...facts, ['a', 20]]) });
    expect(shown(fixed)).toEqual(shown(scratch));
  });
});
