import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { portableExp, portableLog } from '../../src/plan/portable-math.ts';
import { diceOf, normal, normalQuantile, uniform, xoshiro128 } from '../../src/plan/random.ts';

describe('the source of chance', () => {
  // Sequence of xoshiro128** 1.1 from state 1, 2, 3, 4: reference vector of the rand_xoshiro crate,
  // made with the authors' C code (Blackman & Vigna).
  test('gives the published sequence of xoshiro128**', () => {
    const dice = xoshiro128([1, 2, 3, 4]);
    expect(Array.from({ length: 10 }, () => dice())).toEqual([
      11520, 0, 5927040, 70819200, 2031721883, 1637235492, 1287239034, 3734860849, 3729100597,
      4258142804,
    ]);
  });

  test('seeds beside each other have nothing in common', () => {
    const first = [1, 2, 3, 4, 5].map((seed) => diceOf(seed)());
    expect(new Set(first).size).toBe(5);
    // Half of the bits differ on average; a weak mixing would leave most of them alike.
    const flips = Array.from({ length: 200 }, (_, seed) => {
      let bits = diceOf(seed)() ^ diceOf(seed + 1)();
      let count = 0;
      for (; bits !== 0; bits &= bits - 1) count += 1;
      return count;
    });
    const mean = flips.reduce((a, b) => a + b, 0) / flips.length;
    expect(mean).toBeGreaterThan(15);
    expect(mean).toBeLessThan(17);
  });

  test('numbers lie strictly between 0 and 1', () => {
    expect(uniform(() => 0)).toBeGreaterThan(0);
    expect(uniform(() => 2 ** 32 - 1)).toBeLessThan(1);
  });
});

describe('the normal quantile', () => {
  // Wichura, Applied Statistics 37:477-484, 1988: check values printed with algorithm AS 241.
  test.each([
    [0.25, -0.6744897501960817],
    [0.001, -3.090232306167814],
    [1e-20, -9.26234008979841],
  ])('of %f agrees with the values printed with AS 241', (p, z) => {
    expect(normalQuantile(p) / z).toBeCloseTo(1, 14);
  });

  // 1.959963984540054: two-sided 95 % point, every table of the normal distribution.
  test('is odd around one half, and 1.96 at 97.5 %', () => {
    expect(normalQuantile(0.975)).toBeCloseTo(1.959963984540054, 12);
    expect(normalQuantile(0.5)).toBe(0);
    expect(normalQuantile(0.1)).toBeCloseTo(-normalQuantile(0.9), 12);
  });

  test('draws have mean 0 and standard deviation 1', () => {
    const dice = diceOf(7);
    const draws = Array.from({ length: 40_000 }, () => normal(dice));
    const mean = draws.reduce((a, b) => a + b, 0) / draws.length;
    const variance = draws.reduce((a, b) => a + (b - mean) ** 2, 0) / draws.length;
    // Four standard errors.
    expect(Math.abs(mean)).toBeLessThan(0.02);
    expect(Math.abs(Math.sqrt(variance) - 1)).toBeLessThan(0.015);
  });
});

describe('arithmetic that is the same everywhere', () => {
  test('e^x and ln x agree with the built-in functions to the last digits', () => {
    fc.assert(
      fc.property(fc.double({ min: -20, max: 20, noNaN: true }), (x) => {
        expect(Math.abs(portableExp(x) / Math.exp(x) - 1)).toBeLessThan(1e-14);
        const y = Math.exp(x);
        expect(Math.abs(portableLog(y) - Math.log(y))).toBeLessThan(
          1e-14 * Math.max(1, Math.abs(x)),
        );
      }),
      { seed: 2026, numRuns: 500 },
    );
  });

  test('what has no logarithm is refused', () => {
    expect(() => portableLog(0)).toThrow();
    expect(() => portableLog(-1)).toThrow();
    expect(() => portableExp(1000)).toThrow();
  });
});
