/**
 * The short way to the latest moments against the whole search, which is itself held against a plain
 * Floyd-Warshall: it answers only where every bound can be kept, and then the same.
 */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { compileNetwork } from '../../src/temporal/compile-network.ts';
import { areAllKept, latestOfAllKept } from '../../src/temporal/latest.ts';
import { solve } from '../../src/temporal/solve.ts';
import { wildSituation } from './arbitraries.ts';

it('answers exactly where nothing has to give way, and with the same moments', () => {
  const verdicts = { kept: 0, broken: 0 };
  fc.assert(
    fc.property(wildSituation, ({ nodes, edges, fixed, nowMs }) => {
      const network = compileNetwork({ nodes, edges });
      const { fixedAtMs, latestMs, broken } = solve({ network, fixed, nowMs, onBroken: 'relax' });
      const isKept = broken.length === 0;
      verdicts[isKept ? 'kept' : 'broken'] += 1;
      expect(areAllKept(network, fixedAtMs, nowMs)).toBe(isKept);
      if (isKept) expect(latestOfAllKept(network, fixedAtMs)).toEqual(latestMs);
    }),
    { numRuns: 1500, seed: 7 },
  );
  expect(verdicts.kept).toBeGreaterThan(100);
  expect(verdicts.broken).toBeGreaterThan(100);
});

it('leaves an instant that is no number to the search, which refuses it', () => {
  const network = compileNetwork({ nodes: ['a'], edges: [] });
  expect(areAllKept(network, new Float64Array([Number.NaN]), Number.NaN)).toBe(false);
});
