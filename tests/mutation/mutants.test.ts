/** Which mutants a sample takes, and what counts as alive. */
import { describe, expect, it } from 'vitest';
import { type MutantPlace, rangeOf, sampleOf, scoreOf } from './mutants.ts';

const mutants = Array.from({ length: 400 }, (_, i): MutantPlace => {
  const start = { line: i, column: 4 };
  const location = { start, end: { line: i, column: 9 } };
  return { fileName: 'src/a.ts', location, mutatorName: 'EqualityOperator', replacement: 'a < b' };
});
const lines = (chosen: readonly MutantPlace[]) => chosen.map((m) => m.location.start.line);

describe('a sample', () => {
  it('is the same for the same seed, in whatever order the mutants are listed', () => {
    const once = lines(sampleOf(mutants, { size: 40, seed: 1 }));
    expect(lines(sampleOf(mutants.toReversed(), { size: 40, seed: 1 }))).toEqual(once);
    expect(new Set(once).size).toBe(40);
    expect(lines(sampleOf(mutants, { size: 40, seed: 2 }))).not.toEqual(once);
  });

  it('grows by adding: the larger one holds the smaller', () => {
    const small = lines(sampleOf(mutants, { size: 40, seed: 1 }));
    expect(lines(sampleOf(mutants, { size: 80, seed: 1 })).slice(0, 40)).toEqual(small);
  });

  it('takes each mutant about as often as any other', () => {
    // 40 of 400 under each of 200 seeds: 20 times each on average, standard deviation 4.2. Seven of
    // them either way leave out nobody.
    const taken = new Array<number>(mutants.length).fill(0);
    for (let seed = 0; seed < 200; seed += 1) {
      for (const line of lines(sampleOf(mutants, { size: 40, seed }))) {
        taken[line] = (taken[line] ?? 0) + 1;
      }
    }
    expect(Math.min(...taken)).toBeGreaterThan(0);
    expect(Math.max(...taken)).toBeLessThan(50);
  });

  it('tells apart two changes of one place', () => {
    const [one] = mutants;
    if (one === undefined) throw new Error('no mutants');
    const two = { ...one, replacement: 'a >= b' };
    expect(sampleOf([one, two], { size: 2, seed: 1 })).toHaveLength(2);
  });
});

describe('a part of a file', () => {
  it('is told with lines from 1 and columns from 0', () => {
    const [one] = mutants;
    if (one === undefined) throw new Error('no mutants');
    expect(rangeOf(one)).toBe('src/a.ts:1:4-1:9');
  });
});

describe('the score', () => {
  it('counts as alive what is switched off, not reached, or was not run', () => {
    const statuses = [
      ...(['Killed', 'Killed', 'Timeout', 'Survived'] as const),
      ...(['NoCoverage', 'Ignored', 'RuntimeError', 'Pending'] as const),
    ];
    expect(scoreOf(statuses)).toEqual({
      mutants: 8,
      killed: 2,
      timeout: 1,
      survived: 1,
      noCoverage: 1,
      ignored: 1,
      broken: 1,
      score: 50,
    });
  });

  it('of nothing is 0, not whole', () => {
    expect(scoreOf([]).score).toBe(0);
  });
});
