import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { mixesCalc } from '../../src/calc/mixes.ts';
import { roundsCalc } from '../../src/calc/rounds.ts';
import { computed, refused } from './calc-support.ts';

interface Pace {
  readonly applySeconds: number;
  readonly rinseSeconds: number;
  readonly minSeconds: number;
  readonly maxSeconds: number;
}

/** Plays one round second by second: touches, then waits for `start`, then rinses. */
function played(count: number, start: number, pace: Pace): number[] {
  return Array.from({ length: count }, (_, tooth) => {
    const touchedAt = tooth * pace.applySeconds;
    const rinsedAt = start + tooth * pace.rinseSeconds;
    return rinsedAt - touchedAt;
  });
}

/** Whether any start in whole seconds keeps every tooth of a round inside the limits. */
function anyStartFits(count: number, pace: Pace): boolean {
  for (let start = count * pace.applySeconds; start <= 400; start += 1) {
    const dwells = played(count, start, pace);
    if (dwells.every((dwell) => dwell >= pace.minSeconds && dwell <= pace.maxSeconds)) return true;
  }
  return false;
}

/** All ways to write `count` as a sum of parts in falling order. */
function partitions(count: number, largest = count): number[][] {
  if (count === 0) return [[]];
  return Array.from({ length: Math.min(count, largest) }, (_, at) => at + 1).flatMap((part) =>
    partitions(count - part, part).map((rest) => [part, ...rest]),
  );
}

const spread = (sizes: readonly number[]): number => Math.max(...sizes) - Math.min(...sizes);

function roundsOf(input: Pace & { readonly count: number }): number[][] {
  return computed(roundsCalc, input)['rounds'] as number[][];
}

describe('rounds', () => {
  test.each([
    // Worked by hand from dwell of tooth i = T + i * (rinse - apply), T at least n * apply.
    // Enamel 15 to 30 s (limits from memory), 3 s to touch, 5 s to rinse: four teeth make T = 15 and
    // 15, 17, 19, 21 s; eight would make T = 24 and a last one of 24 + 14 = 38 s.
    [
      { count: 4, applySeconds: 3, rinseSeconds: 5, minSeconds: 15, maxSeconds: 30 },
      [[15, 17, 19, 21]],
    ],
    [
      { count: 8, applySeconds: 3, rinseSeconds: 5, minSeconds: 15, maxSeconds: 30 },
      [
        [15, 17, 19, 21],
        [15, 17, 19, 21],
      ],
    ],
    // Hands still busy: three teeth at 10 s each cannot be rinsed before 30 s.
    [
      { count: 3, applySeconds: 10, rinseSeconds: 10, minSeconds: 15, maxSeconds: 30 },
      [[30, 30, 30]],
    ],
    // Rinsing faster than applying: the last tooth waits least, so T = 15 + 3 * 4 = 27.
    [
      { count: 4, applySeconds: 5, rinseSeconds: 1, minSeconds: 15, maxSeconds: 30 },
      [[27, 23, 19, 15]],
    ],
    // Seven teeth, at most three a round: three rounds of 3, 2, 2.
    [
      { count: 7, applySeconds: 10, rinseSeconds: 10, minSeconds: 15, maxSeconds: 30 },
      [
        [30, 30, 30],
        [20, 20],
        [20, 20],
      ],
    ],
    // One tooth waits for the minimum only.
    [{ count: 1, applySeconds: 3, rinseSeconds: 5, minSeconds: 15, maxSeconds: 15 }, [[15]]],
    // No time to touch or rinse: everyone goes together.
    [
      { count: 5, applySeconds: 0, rinseSeconds: 0, minSeconds: 20, maxSeconds: 20 },
      [[20, 20, 20, 20, 20]],
    ],
    // Tenths of seconds add up without a rounding error pushing a tooth out: 3 * 0.1 is 0.3.
    [
      { count: 3, applySeconds: 0.1, rinseSeconds: 0.1, minSeconds: 0.1, maxSeconds: 0.3 },
      [[0.3, 0.3, 0.3]],
    ],
  ])('%j', (input, expected) => {
    expect(roundsOf(input)).toEqual(expected);
  });

  test.each([
    [
      { count: 2, applySeconds: 31, rinseSeconds: 1, minSeconds: 15, maxSeconds: 30 },
      'calc.rounds.applySeconds: expected at most maxSeconds (30), or no tooth fits the limits, got 31',
    ],
    [
      { count: 2, applySeconds: 3, rinseSeconds: 1, minSeconds: 31, maxSeconds: 30 },
      'calc.rounds.maxSeconds: expected a number of minSeconds (31) or more, got 30',
    ],
    [
      { count: 1e9, applySeconds: 3, rinseSeconds: 1, minSeconds: 15, maxSeconds: 30 },
      'calc.rounds.count: expected a whole number from 1 to 1000, got 1000000000',
    ],
    [
      { count: 0, applySeconds: 3, rinseSeconds: 1, minSeconds: 15, maxSeconds: 30 },
      'calc.rounds.count: expected a whole number from 1 to 1000, got 0',
    ],
    [
      { count: 2.5, applySeconds: 3, rinseSeconds: 1, minSeconds: 15, maxSeconds: 30 },
      'calc.rounds.count: expected a whole number from 1 to 1000, got 2.5',
    ],
  ])('refuses %j', (input, line) => {
    expect(refused(roundsCalc, input)).toBe(line);
  });

  const anyPace = fc
    .record({
      count: fc.integer({ min: 1, max: 9 }),
      applySeconds: fc.integer({ min: 0, max: 12 }),
      rinseSeconds: fc.integer({ min: 0, max: 12 }),
      minSeconds: fc.integer({ min: 0, max: 40 }),
      width: fc.integer({ min: 0, max: 40 }),
    })
    .map(({ width, ...pace }) => ({ ...pace, maxSeconds: pace.minSeconds + width }));

  test('agrees with an exhaustive search over all splits and all starts', () => {
    fc.assert(
      fc.property(anyPace, (input) => {
        const allowed = partitions(input.count).filter((sizes) =>
          sizes.every((size) => anyStartFits(size, input)),
        );
        if (allowed.length === 0) {
          expect(refused(roundsCalc, input)).toMatch(/^calc\.rounds\./);
          return;
        }
        const sizes = roundsOf(input).map((round) => round.length);
        expect(sizes.reduce((sum, size) => sum + size, 0)).toBe(input.count);
        const fewest = Math.min(...allowed.map((each) => each.length));
        expect(sizes).toHaveLength(fewest);
        const evenest = Math.min(
          ...allowed.filter((each) => each.length === fewest).map((each) => spread(each)),
        );
        expect(spread(sizes)).toBe(evenest);
        expect(sizes).toEqual(sizes.toSorted((a, b) => b - a));
      }),
      { numRuns: 400 },
    );
  });

  test('every dwell is inside the limits and no round could start its rinse a second sooner', () => {
    fc.assert(
      fc.property(anyPace, (input) => {
        if (!anyStartFits(1, input)) return;
        for (const dwells of roundsOf(input)) {
          const start = dwells[0] ?? 0;
          expect(dwells).toEqual(played(dwells.length, start, input));
          for (const dwell of dwells) {
            expect(dwell).toBeGreaterThanOrEqual(input.minSeconds);
            expect(dwell).toBeLessThanOrEqual(input.maxSeconds);
          }
          const busyUntil = dwells.length * input.applySeconds;
          const shortest = Math.min(...dwells);
          expect(start === busyUntil || shortest === input.minSeconds).toBe(true);
        }
      }),
    );
  });
});

describe('mixes', () => {
  test.each([
    // 240 s of work less 30 s reserve and 20 s lead leaves 190 s: six units of 30 s.
    [
      { units: 8, workingSeconds: 240, reserveSeconds: 30, leadSeconds: 20, perUnitSeconds: 30 },
      [4, 4],
    ],
    [
      { units: 6, workingSeconds: 240, reserveSeconds: 30, leadSeconds: 20, perUnitSeconds: 30 },
      [6],
    ],
    [
      { units: 7, workingSeconds: 240, reserveSeconds: 30, leadSeconds: 20, perUnitSeconds: 30 },
      [4, 3],
    ],
    [
      { units: 10, workingSeconds: 120, reserveSeconds: 0, leadSeconds: 0, perUnitSeconds: 30 },
      [4, 3, 3],
    ],
    // Just fits: 0.1 + 2 * 0.1 is 0.3.
    [
      { units: 2, workingSeconds: 0.3, reserveSeconds: 0, leadSeconds: 0.1, perUnitSeconds: 0.1 },
      [2],
    ],
  ])('%j', (input, expected) => {
    expect(computed(mixesCalc, input)['mixes']).toEqual(expected);
  });

  test('says how long one unit takes when not even one fits', () => {
    const input = {
      units: 3,
      workingSeconds: 60,
      reserveSeconds: 20,
      leadSeconds: 20,
      perUnitSeconds: 30,
    };
    const line =
      'calc.mixes.workingSeconds: expected at least 70 (lead, one unit and the reserve), got 60';
    expect(refused(mixesCalc, input)).toBe(line);
  });

  test('the reserve cannot exceed the working time unnoticed', () => {
    const input = {
      units: 1,
      workingSeconds: 60,
      reserveSeconds: 90,
      leadSeconds: 0,
      perUnitSeconds: 0,
    };
    expect(refused(mixesCalc, input)).toContain('calc.mixes.workingSeconds');
  });

  test('agrees with an exhaustive search over all splits', () => {
    const anyMix = fc.record({
      units: fc.integer({ min: 1, max: 10 }),
      workingSeconds: fc.integer({ min: 0, max: 300 }),
      reserveSeconds: fc.integer({ min: 0, max: 60 }),
      leadSeconds: fc.integer({ min: 0, max: 60 }),
      perUnitSeconds: fc.integer({ min: 1, max: 60 }),
    });
    fc.assert(
      fc.property(anyMix, (input) => {
        const fits = (size: number): boolean =>
          input.leadSeconds + size * input.perUnitSeconds + input.reserveSeconds <=
          input.workingSeconds;
        const allowed = partitions(input.units).filter((sizes) => sizes.every(fits));
        if (allowed.length === 0) {
          expect(refused(mixesCalc, input)).toMatch(/^calc\.mixes\./);
          return;
        }
        const fewest = Math.min(...allowed.map((each) => each.length));
        const best = allowed
          .filter((each) => each.length === fewest)
          .toSorted((a, b) => spread(a) - spread(b))[0];
        expect(computed(mixesCalc, input)['mixes']).toEqual(best);
      }),
      { numRuns: 300 },
    );
  });
});
