/** Random networks for property tests: small numbers, so that ties and contradictions are common. */
import fc from 'fast-check';
import type { Constraint } from '../../src/temporal/constraint.ts';

const nodeNames = (count: number): string[] =>
  Array.from({ length: count }, (_, index) => `m${index}`);

const side = (constraint: { min: number | undefined; max: number | undefined }) => ({
  ...(constraint.min === undefined ? {} : { minMs: constraint.min }),
  ...(constraint.max === undefined ? {} : { maxMs: constraint.max }),
});

/** Any constraint at all: both directions, negative bounds, self references, crossed bounds. */
export const wildNetwork = fc.integer({ min: 1, max: 9 }).chain((count) =>
  fc.record({
    nodes: fc.constant(nodeNames(count)),
    edges: fc.array(
      fc
        .record({
          from: fc.nat(count - 1),
          to: fc.nat(count - 1),
          min: fc.option(fc.integer({ min: -12, max: 30 }), { nil: undefined }),
          max: fc.option(fc.integer({ min: -5, max: 60 }), { nil: undefined }),
        })
        .map(
          ({ from, to, ...bounds }): Constraint => ({
            from: `m${from}`,
            to: `m${to}`,
            ...side(bounds),
          }),
        ),
      { maxLength: 2 * count },
    ),
  }),
);

/**
 * Networks that look like work: bounds drawn around a schedule that keeps them all, so that they
 * are consistent. Gives the schedule too.
 */
export const keepableNetwork = fc.integer({ min: 2, max: 10 }).chain((count) =>
  fc
    .record({
      times: fc.array(fc.integer({ min: 0, max: 100 }), { minLength: count, maxLength: count }),
      drawn: fc.array(
        fc.record({
          from: fc.nat(count - 1),
          to: fc.nat(count - 1),
          under: fc.option(fc.nat(20), { nil: undefined }),
          over: fc.option(fc.nat(20), { nil: undefined }),
        }),
        { maxLength: 3 * count },
      ),
    })
    .map(({ times, drawn }) => ({
      nodes: nodeNames(count),
      times,
      edges: drawn.map(({ from, to, under, over }): Constraint => {
        const gap = (times[to] ?? 0) - (times[from] ?? 0);
        const min = under === undefined ? undefined : gap - under;
        const max = over === undefined ? undefined : gap + over;
        return { from: `m${from}`, to: `m${to}`, ...side({ min, max }) };
      }),
    })),
);

/** A wild network with some moments fixed anywhere, and now anywhere. */
export const wildSituation = wildNetwork.chain(({ nodes, edges }) =>
  fc.record({
    nodes: fc.constant(nodes),
    edges: fc.constant(edges),
    fixed: fc
      .array(fc.option(fc.integer({ min: 0, max: 80 }), { nil: undefined, freq: 2 }), {
        minLength: nodes.length,
        maxLength: nodes.length,
      })
      .map((drawn) => {
        const fixed = new Map<string, number>();
        drawn.forEach((atMs, index) => {
          if (atMs !== undefined) fixed.set(`m${index}`, atMs);
        });
        return fixed;
      }),
    nowMs: fc.integer({ min: 0, max: 80 }),
  }),
);
