import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { coveringSpots, spotsCalc } from '../../src/calc/spots.ts';
import { discsCover } from '../../src/calc/spots-check.ts';
import type { Spot } from '../../src/calc/spots-cover.ts';
import { computed, refused } from './calc-support.ts';
import coverings from './vectors/coverings.json' with { type: 'json' };

interface Surface {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly tipDiameterMm: number;
}

function spotsOf(surface: Surface): readonly Spot[] {
  const spots = coveringSpots(surface);
  if (!spots.ok) throw new Error(spots.error.expected);
  return spots.value;
}

const countFor = (widthMm: number, heightMm: number, radiusMm: number): number =>
  spotsOf({ widthMm, heightMm, tipDiameterMm: 2 * radiusMm }).length;

const ROUNDING = 1e-8;

function nearest(spots: readonly Spot[], x: number, y: number): number {
  return Math.min(...spots.map((spot) => Math.hypot(spot.xMm - x, spot.yMm - y)));
}

/** Where two circles of one radius cross. */
function crossings(a: Spot, b: Spot, radius: number): [number, number][] {
  const dx = b.xMm - a.xMm;
  const dy = b.yMm - a.yMm;
  const apart = Math.hypot(dx, dy);
  if (apart === 0 || apart > 2 * radius) return [];
  const along = Math.sqrt(Math.max(0, radius ** 2 - (apart / 2) ** 2)) / apart;
  const x = (a.xMm + b.xMm) / 2;
  const y = (a.yMm + b.yMm) / 2;
  return [
    [x - dy * along, y + dx * along],
    [x + dy * along, y - dx * along],
  ];
}

/** Where a circle crosses the four edge lines. */
function edgeCrossings(spot: Spot, radius: number, surface: Surface): [number, number][] {
  const points: [number, number][] = [];
  for (const x of [0, surface.widthMm]) {
    const half = radius ** 2 - (x - spot.xMm) ** 2;
    if (half >= 0) for (const s of [-1, 1]) points.push([x, spot.yMm + s * Math.sqrt(half)]);
  }
  for (const y of [0, surface.heightMm]) {
    const half = radius ** 2 - (y - spot.yMm) ** 2;
    if (half >= 0) for (const s of [-1, 1]) points.push([spot.xMm + s * Math.sqrt(half), y]);
  }
  return points;
}

/**
 * The farthest any decisive point lies outside all discs, apart from the circles that meet there.
 * Every uncovered region is bounded by arcs and edges, so it has a corner where two circles, a circle
 * and an edge, or two edges meet; just beside such a corner no other disc may be missing. Slightly
 * larger discs than the real ones are used, so that circles that only touch do not count as gaps.
 */
function hasGap(spots: readonly Spot[], surface: Surface): boolean {
  const radius = (surface.tipDiameterMm / 2) * (1 + ROUNDING);
  const inside = ([x, y]: [number, number]): boolean =>
    x >= 0 && x <= surface.widthMm && y >= 0 && y <= surface.heightMm;
  const corners: [number, number][] = [
    [0, 0],
    [surface.widthMm, 0],
    [0, surface.heightMm],
    [surface.widthMm, surface.heightMm],
  ];
  if (corners.some(([x, y]) => nearest(spots, x, y) > radius)) return true;
  for (const [i, a] of spots.entries()) {
    const others = spots.filter((_, at) => at !== i);
    const onEdge = edgeCrossings(a, radius, surface).filter(inside);
    if (onEdge.some(([x, y]) => nearest(others, x, y) > radius)) return true;
    for (const [j, b] of spots.entries()) {
      if (j <= i) continue;
      const third = spots.filter((_, at) => at !== i && at !== j);
      const onCircles = crossings(a, b, radius).filter(inside);
      if (onCircles.some(([x, y]) => nearest(third, x, y) > radius)) return true;
    }
  }
  return false;
}

function worstSample(spots: readonly Spot[], surface: Surface, perSide: number): number {
  let worst = 0;
  for (let i = 0; i <= perSide; i += 1) {
    for (let j = 0; j <= perSide; j += 1) {
      const x = (surface.widthMm * i) / perSide;
      const y = (surface.heightMm * j) / perSide;
      worst = Math.max(worst, nearest(spots, x, y));
    }
  }
  return worst;
}

function expectCovered(spots: readonly Spot[], surface: Surface): void {
  const radius = surface.tipDiameterMm / 2;
  expect(worstSample(spots, surface, 60)).toBeLessThanOrEqual(radius * (1 + ROUNDING));
  expect(hasGap(spots, surface)).toBe(false);
}

describe('the fewest known discs', () => {
  test.each([
    // Smallest radius of n discs that cover the unit square. 1 to 4: closed forms. 5: the root 0.32616
    // of a published polynomial. 6: Melissen & Schuur, Electron. J. Combin. 1996;3:R32; 7: Heppes &
    // Melissen 1997; digits of 6 and 7 from memory.
    [1, Math.SQRT2 / 2],
    [2, Math.sqrt(5) / 4],
    [3, Math.sqrt(65) / 16],
    [4, Math.SQRT2 / 4],
    [5, 0.3261606],
    [6, 0.2987271],
    [7, 0.2742919],
  ])('%i discs cover the unit square from radius %d on, and no smaller', (count, radius) => {
    expect(countFor(1, 1, radius * (1 + 3e-7))).toBe(count);
    expect(countFor(1, 1, radius * (1 - 3e-7))).toBeGreaterThan(count);
  });

  test('the published polynomial for five discs has that radius as a root', () => {
    // Minimal polynomial of the smallest radius for five discs, as given in a public derivation.
    const polynomial = (r: number): number =>
      4294967296 * r ** 12 -
      33554432 * r ** 10 +
      213975040 * r ** 8 -
      37961728 * r ** 6 -
      13421056 * r ** 4 -
      152384 * r ** 2 +
      180625;
    expect(polynomial(0.32616) * polynomial(0.32617)).toBeLessThan(0);
    expect(countFor(1, 1, 0.32617)).toBe(5);
    expect(countFor(1, 1, 0.32616)).toBeGreaterThan(5);
  });

  test('one and two discs are exact for every rectangle', () => {
    const side = fc.double({ min: 0.5, max: 30, noNaN: true });
    fc.assert(
      fc.property(side, side, (widthMm, heightMm) => {
        const one = Math.hypot(widthMm, heightMm) / 2;
        expect(countFor(widthMm, heightMm, one)).toBe(1);
        expect(countFor(widthMm, heightMm, one * (1 - 1e-9))).toBeGreaterThan(1);
        const long = Math.max(widthMm, heightMm);
        const two = Math.hypot(long / 2, Math.min(widthMm, heightMm)) / 2;
        expect(countFor(widthMm, heightMm, two)).toBe(2);
        expect(countFor(widthMm, heightMm, two * (1 - 1e-9))).toBeGreaterThan(2);
      }),
    );
  });

  test('three discs: a row, or one beside two, whichever is better', () => {
    // Closed forms: row of three; one disc across the short side and two beside it, split where both
    // need the same radius (Heppes & Melissen 1997 treat up to five discs).
    for (let ratio = 1; ratio <= 3; ratio += 0.05) {
      const row = Math.hypot(ratio / 3, 1) / 2;
      const split = (ratio - 0.75 / ratio) / 2;
      const beside = Math.hypot(split, 1) / 2;
      const best = Math.min(row, beside);
      expect(countFor(ratio, 1, best * (1 + 1e-7))).toBe(3);
      expect(countFor(ratio, 1, best * (1 - 1e-5))).toBeGreaterThan(3);
    }
  });

  // Source and method: vectors/coverings.json. The list of structures in the program is short; the
  // radii here come from random starts that know nothing of it.
  test.each(Object.entries(coverings.best))('%s discs, side ratios 1 to 4.5', (key, best) => {
    const count = Number(key);
    for (const [ratio = 1, radius = 1] of best) {
      expect(countFor(ratio, 1, radius * (1 + 2e-6))).toBe(count);
      expect(countFor(ratio, 1, radius * (1 - 1e-4))).toBeGreaterThan(count);
    }
  });

  test('an 8 mm tip takes four positions on a mean upper central, a 13.6 mm one takes one', () => {
    // Crown 8.5 x 10.5 mm (Ash & Nelson): the diagonal is 13.51 mm.
    const crown = { widthMm: 8.5, heightMm: 10.5 };
    expect(computed(spotsCalc, { ...crown, tipDiameterMm: 8 })['count']).toBe(4);
    expect(computed(spotsCalc, { ...crown, tipDiameterMm: 13.52 })['count']).toBe(1);
    expect(computed(spotsCalc, { ...crown, tipDiameterMm: 13.5 })['count']).toBe(2);
  });
});

describe('no uncovered point', () => {
  const surface = fc.record({
    widthMm: fc.double({ min: 1, max: 25, noNaN: true }),
    heightMm: fc.double({ min: 1, max: 25, noNaN: true }),
    tipDiameterMm: fc.double({ min: 3, max: 14, noNaN: true }),
  });

  test('every answer covers, by dense sampling and by the crossings of its circles', () => {
    fc.assert(
      fc.property(surface, (given) => {
        expectCovered(spotsOf(given), given);
      }),
      { numRuns: 300 },
    );
  });

  test('large surfaces are covered by patterns, close to the bound for the whole plane', () => {
    for (const given of [
      { widthMm: 100, heightMm: 80, tipDiameterMm: 9 },
      { widthMm: 60, heightMm: 11, tipDiameterMm: 6 },
      { widthMm: 3, heightMm: 200, tipDiameterMm: 4 },
    ]) {
      expectCovered(spotsOf(given), given);
    }
    // Kershner 1939: density at least 2 pi / sqrt(27) = 1.209 in the limit.
    const given = { widthMm: 100, heightMm: 80, tipDiameterMm: 9 };
    const density = (spotsOf(given).length * Math.PI * 4.5 ** 2) / (100 * 80);
    expect(density).toBeGreaterThan((2 * Math.PI) / Math.sqrt(27));
    expect(density).toBeLessThan(1.6);
  });

  test('the check itself finds a gap', () => {
    const given = { widthMm: 8.5, heightMm: 10.5, tipDiameterMm: 8 };
    const moved = spotsOf(given).map((spot, at) =>
      at === 0 ? { ...spot, xMm: spot.xMm - 0.6 } : spot,
    );
    const tight = { ...given, tipDiameterMm: 6.8 };
    expect(hasGap(moved, tight)).toBe(true);
    const rectangle = { widthMm: 8.5, heightMm: 10.5 };
    expect(discsCover(moved, { rectangle, radiusMm: 3.4 })).toBe(false);
    expect(discsCover(spotsOf(given), { rectangle, radiusMm: 4 })).toBe(true);
  });

  test('a larger tip never takes more positions, and turning the surface changes nothing', () => {
    fc.assert(
      fc.property(surface, (given) => {
        const count = spotsOf(given).length;
        const turned = { ...given, widthMm: given.heightMm, heightMm: given.widthMm };
        expect(spotsOf(turned)).toHaveLength(count);
        const larger = { ...given, tipDiameterMm: given.tipDiameterMm * 1.02 };
        expect(spotsOf(larger).length).toBeLessThanOrEqual(count);
      }),
      { numRuns: 150 },
    );
  });

  test('the same question has the same answer', () => {
    fc.assert(
      fc.property(surface, (given) => {
        expect(spotsOf(given)).toEqual(spotsOf({ ...given }));
      }),
      { numRuns: 30 },
    );
  });
});

describe('limits', () => {
  test.each([
    [
      { widthMm: 0, heightMm: 1, tipDiameterMm: 8 },
      'calc.spots.widthMm: expected a number above 0, got 0',
    ],
    [
      { widthMm: 8, heightMm: '10', tipDiameterMm: 8 },
      'calc.spots.heightMm: expected a number above 0, got "10"',
    ],
    [
      { widthMm: 1e9, heightMm: 1, tipDiameterMm: 8 },
      'calc.spots.widthMm: expected a number of at most 1000, got 1000000000',
    ],
    [
      { widthMm: 100, heightMm: 100, tipDiameterMm: 0.1 },
      'calc.spots.tipDiameterMm: expected a tip that covers the surface in at most 1000 positions, got 0.1',
    ],
    [
      { widthMm: 1000, heightMm: 1e-9, tipDiameterMm: 0.5 },
      'calc.spots.tipDiameterMm: expected a tip that covers the surface in at most 1000 positions, got 0.5',
    ],
  ])('refuses %j', (input, line) => {
    expect(refused(spotsCalc, input)).toBe(line);
  });
});
