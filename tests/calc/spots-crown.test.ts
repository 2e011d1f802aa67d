import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { crownSize, surfaceRectangle } from '../../src/calc/crown-size.ts';
import { crownSpots, crownSpotsCalc, ellipseShare } from '../../src/calc/spots-crown.ts';
import { shippedTables } from '../plan/shipped.ts';
import { computed } from './calc-support.ts';

const { crowns } = shippedTables();

function countOf(fdi: number, surface: 'facial' | 'occlusal', tipDiameterMm: number): number {
  const row = crownSize(fdi, crowns);
  if (!row.ok) throw new Error('no such tooth');
  const found = crownSpots({ ...surfaceRectangle(row.value, surface), tipDiameterMm });
  if (!found.ok) throw new Error('not covered');
  return found.value.spots.length;
}

/** One of each kind, first to second molar: third molars carry no such unit. */
const UPPER = [11, 12, 13, 14, 15, 16, 17];
const LOWER = [31, 32, 33, 34, 35, 36, 37];
const ALL = [...UPPER, ...LOWER];

// Rules of the trade, one or two facial places (no source), counted here by nine tenths of the
// ellipse in crowns of Ash & Nelson, Wheeler's, Table 1-1.
describe('places of the tip on the face of a crown', () => {
  test('a tip of 9.5 mm needs one everywhere', () => {
    expect(ALL.filter((fdi) => countOf(fdi, 'facial', 9.5) !== 1)).toEqual([]);
  });

  test.each([
    [9, [11, 33, 36]],
    [8, [11, 13, 16, 33, 36, 37]],
  ])('a tip of %f mm needs two on these teeth only', (tip, teeth) => {
    expect(ALL.filter((fdi) => countOf(fdi, 'facial', tip) !== 1)).toEqual(teeth);
    expect(teeth.every((fdi) => countOf(fdi, 'facial', tip) === 2)).toBe(true);
  });

  test('a tip of 7 mm needs two, three on an upper central', () => {
    for (const fdi of ALL) expect(countOf(fdi, 'facial', 7)).toBe(fdi === 11 ? 3 : 2);
  });
});

describe('places of the tip on the chewing surface', () => {
  const premolars = [14, 15, 34, 35];
  const molars = [16, 17, 36, 37];

  test('premolars need one from 8 mm on', () => {
    for (const tip of [8, 9, 9.5, 11])
      expect(premolars.map((fdi) => countOf(fdi, 'occlusal', tip))).toEqual([1, 1, 1, 1]);
  });

  test('molars need two at 9 to 9.5 mm, two or three at 8, one from 11', () => {
    for (const tip of [9, 9.5])
      expect(molars.map((fdi) => countOf(fdi, 'occlusal', tip))).toEqual([2, 2, 2, 2]);
    for (const fdi of molars) expect([2, 3]).toContain(countOf(fdi, 'occlusal', 8));
    expect(molars.map((fdi) => countOf(fdi, 'occlusal', 11))).toEqual([1, 1, 1, 1]);
  });
});

describe('the share of an ellipse under discs', () => {
  // A disc inside a circle covers the ratio of their areas; one around it covers it all.
  test.each([
    [8, 8, 2, 0.0625],
    [8, 8, 4, 0.25],
    [8, 8, 8, 1],
    [10, 6, 3, (3 * 3) / (10 * 6)],
  ])('%f x %f mm under a disc of %f mm', (widthMm, heightMm, tip, share) => {
    const spots = [{ xMm: widthMm / 2, yMm: heightMm / 2 }];
    expect(ellipseShare(spots, { widthMm, heightMm, radiusMm: tip / 2 })).toBeCloseTo(share, 2);
  });

  const side = fc.integer({ min: 10, max: 140 }).map((tenths) => tenths / 10);

  test('what is given covers nine tenths, counted again point by point', () => {
    fc.assert(
      fc.property(side, side, side, (widthMm, heightMm, tip) => {
        const tipDiameterMm = Math.max(2, tip);
        const found = crownSpots({ widthMm, heightMm, tipDiameterMm });
        if (!found.ok) throw new Error('not covered');
        const { spots } = found.value;
        let inside = 0;
        let under = 0;
        for (let x = 0.5; x < 60; x += 1) {
          for (let y = 0.5; y < 60; y += 1) {
            if (Math.hypot(x / 30 - 1, y / 30 - 1) > 1) continue;
            inside += 1;
            const [xMm, yMm] = [(x / 60) * widthMm, (y / 60) * heightMm];
            const near = spots.some(
              (s) => Math.hypot(s.xMm - xMm, s.yMm - yMm) <= tipDiameterMm / 2,
            );
            if (near) under += 1;
          }
        }
        // The grid is coarse: a point in a hundred may fall on the other side.
        expect(under / inside).toBeGreaterThan(0.89);
      }),
      { seed: 313, numRuns: 60 },
    );
  });

  test('the figure says how many and how much', () => {
    const answer = computed(crownSpotsCalc, { widthMm: 8.5, heightMm: 10.5, tipDiameterMm: 9.5 });
    expect(answer['count']).toBe(1);
    // By numerical integration elsewhere: 0.939.
    expect(answer['coveredShare']).toBeCloseTo(0.939, 2);
  });
});
