import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { mostWithin, pressesFor } from '../../src/calc/lamp-programmes.ts';

/** Programmes as lamps have them (rule of the trade, no source). */
const USUAL = [3, 5, 10, 15, 20, 30, 40];
const usual = (irradianceMwPerCm2: number) => ({
  programmesSeconds: USUAL,
  pressMaxSeconds: 40_000 / irradianceMwPerCm2,
});

describe('the presses that reach a time', () => {
  // Worked by hand: the smallest sum, and nothing under 3 s left for a second press. 40 J/cm2 are
  // 40 s at 1000 mW/cm2.
  test.each([
    [13.3, [15]],
    [13.6, [15]],
    [19.9, [20]],
    [20.5, [15, 10]],
    [25.6, [30]],
    [30.8, [20, 15]],
    [3, [3]],
    [40, [40]],
  ])('%f s', (seconds, presses) => {
    expect(pressesFor(seconds, usual(1000))).toEqual(presses);
  });

  test('a press of more than 40 J/cm2 is split in two', () => {
    // 25.6 s at 1500 mW/cm2: one press may last 26.7 s, so 30 s are two presses.
    expect(pressesFor(25.6, usual(1500))).toEqual([15, 15]);
    expect(pressesFor(38, usual(1200))).toEqual([20, 20]);
  });

  test('a list without short programmes gives what it has', () => {
    expect(pressesFor(6, { programmesSeconds: [10, 20], pressMaxSeconds: 40 })).toEqual([10]);
    expect(pressesFor(49.8, { programmesSeconds: [10, 20], pressMaxSeconds: 40 })).toBeNull();
  });

  test('without a list times go up in steps of 5 s', () => {
    const lamp = { pressMaxSeconds: 33 };
    expect(pressesFor(13.3, lamp)).toEqual([15]);
    expect(pressesFor(20.5, lamp)).toEqual([25]);
    expect(pressesFor(30.8, lamp)).toEqual([20, 15]);
  });

  const lamps = fc.record({
    programmesSeconds: fc.option(
      fc.uniqueArray(fc.integer({ min: 1, max: 60 }), { minLength: 1 }),
      {
        nil: undefined,
      },
    ),
    pressMaxSeconds: fc.integer({ min: 1, max: 90 }),
  });

  test('each press is a programme within the longest, and no other pair is shorter', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 900 }), lamps, (tenths, lamp) => {
        const seconds = tenths / 10;
        const found = pressesFor(seconds, lamp);
        const can = (each: number): boolean =>
          each <= lamp.pressMaxSeconds &&
          (lamp.programmesSeconds?.includes(each) ?? (each % 5 === 0 && each > 0));
        const all = Array.from({ length: 90 }, (_, i) => i + 1).filter(can);
        const sums = all.flatMap((a) => [
          a,
          ...all.filter((b) => b <= a && seconds - a >= 3).map((b) => a + b),
        ]);
        const reach = sums.filter((sum) => sum >= seconds);
        expect(found === null).toBe(reach.length === 0);
        if (found === null) return;
        expect(found.every(can)).toBe(true);
        expect(found.reduce((a, b) => a + b, 0)).toBe(Math.min(...reach));
      }),
      { seed: 311, numRuns: 300 },
    );
  });
});

describe('the most that two presses give', () => {
  test.each([
    [40, [40]],
    [38, [20, 15]],
    [30, [30]],
    [2, []],
  ])('within %f s', (seconds, presses) => {
    const found = mostWithin(seconds, usual(1000));
    expect(found.reduce((a, b) => a + b, 0)).toBe(presses.reduce((a, b) => a + b, 0));
  });
});
