/**
 * How far the worst point of a rectangle [0,w] x [0,h] lies from the nearest of a few centres, and
 * whether equal discs cover the rectangle. Lengths in mm.
 *
 * The distance to the nearest centre is largest at a corner, where an edge meets the bisector of
 * two centres, or at a Voronoi vertex, so looking at those finitely many points is exact
 * (Okabe, Boots, Sugihara & Chiu, Spatial Tessellations, 2nd ed. 2000, chapter 2; from memory).
 */
export interface Spot {
  readonly xMm: number;
  readonly yMm: number;
}

/** A rectangle with one corner at the origin. Both sides in mm. */
export interface RectangleMm {
  readonly widthMm: number;
  readonly heightMm: number;
}

/**
 * A point where the distance to the nearest centres has a local maximum. `weights` say how the
 * distance changes when a centre moves: d(reach) = -sum(weight * outward unit vector * move).
 */
export interface CriticalPoint {
  readonly xMm: number;
  readonly yMm: number;
  readonly reachMm: number;
  readonly holders: readonly { readonly index: number; readonly weight: number }[];
}

const SAME_LENGTH = 1e-12;

function distance(spot: Spot, x: number, y: number): number {
  return Math.hypot(spot.xMm - x, spot.yMm - y);
}

/** Whether some centre lies nearer to a point than `reach`, apart from rounding. */
function nearerThan(spots: readonly Spot[], x: number, y: number, reach: number): boolean {
  const limit = Math.max(0, reach * (1 - SAME_LENGTH) - SAME_LENGTH);
  const limitSquared = limit * limit;
  for (const spot of spots) {
    const dx = spot.xMm - x;
    const dy = spot.yMm - y;
    if (dx * dx + dy * dy < limitSquared) return true;
  }
  return false;
}

function cornerPoints(spots: readonly Spot[], rectangle: RectangleMm): CriticalPoint[] {
  const points: CriticalPoint[] = [];
  for (const x of [0, rectangle.widthMm]) {
    for (const y of [0, rectangle.heightMm]) {
      let index = 0;
      let reachMm = Number.POSITIVE_INFINITY;
      spots.forEach((spot, i) => {
        const away = distance(spot, x, y);
        if (away < reachMm) {
          reachMm = away;
          index = i;
        }
      });
      points.push({ xMm: x, yMm: y, reachMm, holders: [{ index, weight: 1 }] });
    }
  }
  return points;
}

/** Where the bisector of a and b crosses the vertical line x = `at`; null when it does not. */
function bisectorHeight(a: Spot, b: Spot, at: number): number | null {
  const dy = b.yMm - a.yMm;
  if (Math.abs(dy) < SAME_LENGTH) return null;
  const dx = b.xMm - a.xMm;
  return (a.yMm + b.yMm) / 2 - (dx * (at - (a.xMm + b.xMm) / 2)) / dy;
}

const turned = (spot: Spot): Spot => ({ xMm: spot.yMm, yMm: spot.xMm });

/** Every two different centres, the earlier one first. */
function* pairs(spots: readonly Spot[]) {
  for (const [i, a] of spots.entries()) {
    for (let j = i + 1; j < spots.length; j += 1) {
      const b = spots[j];
      if (b !== undefined) yield { i, j, a, b };
    }
  }
}

/** Bisector crossings on the two vertical edges of a rectangle. */
function verticalEdgePoints(spots: readonly Spot[], rectangle: RectangleMm): CriticalPoint[] {
  const points: CriticalPoint[] = [];
  for (const { i, j, a, b } of pairs(spots)) {
    for (const x of [0, rectangle.widthMm]) {
      const y = bisectorHeight(a, b, x);
      if (y === null || y < 0 || y > rectangle.heightMm) continue;
      const reachMm = distance(a, x, y);
      if (nearerThan(spots, x, y, reachMm)) continue;
      // The point slides along the edge so that both distances stay equal.
      const share = (y - b.yMm) / (a.yMm - b.yMm);
      const holders = [
        { index: i, weight: share },
        { index: j, weight: 1 - share },
      ];
      points.push({ xMm: x, yMm: y, reachMm, holders });
    }
  }
  return points;
}

function edgePoints(spots: readonly Spot[], rectangle: RectangleMm): CriticalPoint[] {
  const lying = { widthMm: rectangle.heightMm, heightMm: rectangle.widthMm };
  const onHorizontal = verticalEdgePoints(spots.map(turned), lying);
  return [
    ...verticalEdgePoints(spots, rectangle),
    ...onHorizontal.map((point) => ({ ...point, xMm: point.yMm, yMm: point.xMm })),
  ];
}

interface Triple {
  readonly a: Spot;
  readonly b: Spot;
  readonly c: Spot;
}

/** Circumcentre of three centres with its barycentric weights; null when they lie on a line. */
function circumcentre({ a, b, c }: Triple) {
  const bx = b.xMm - a.xMm;
  const by = b.yMm - a.yMm;
  const cx = c.xMm - a.xMm;
  const cy = c.yMm - a.yMm;
  const cross = bx * cy - by * cx;
  if (Math.abs(cross) < SAME_LENGTH) return null;
  const bb = bx * bx + by * by;
  const cc = cx * cx + cy * cy;
  const ux = (cy * bb - by * cc) / (2 * cross);
  const uy = (bx * cc - cx * bb) / (2 * cross);
  const weightB = (ux * cy - uy * cx) / cross;
  const weightC = (bx * uy - by * ux) / cross;
  return { x: a.xMm + ux, y: a.yMm + uy, weights: [1 - weightB - weightC, weightB, weightC] };
}

function innerPoints(spots: readonly Spot[], rectangle: RectangleMm): CriticalPoint[] {
  const points: CriticalPoint[] = [];
  for (const { i, j, a, b } of pairs(spots)) {
    for (let k = j + 1; k < spots.length; k += 1) {
      const c = spots[k];
      const centre = c === undefined ? null : circumcentre({ a, b, c });
      if (centre === null) continue;
      const { x, y } = centre;
      if (x < 0 || y < 0 || x > rectangle.widthMm || y > rectangle.heightMm) continue;
      const reachMm = distance(a, x, y);
      if (nearerThan(spots, x, y, reachMm)) continue;
      const holders = [i, j, k].map((index, at) => ({ index, weight: centre.weights[at] ?? 0 }));
      points.push({ xMm: x, yMm: y, reachMm, holders });
    }
  }
  return points;
}

/**
 * Every point of the rectangle where the distance to the nearest centre can be largest.
 * Grows with the fourth power of the number of centres; meant for up to about ten.
 */
export function criticalPoints(spots: readonly Spot[], rectangle: RectangleMm): CriticalPoint[] {
  return [
    ...cornerPoints(spots, rectangle),
    ...edgePoints(spots, rectangle),
    ...innerPoints(spots, rectangle),
  ];
}

/** The smallest radius in mm with which equal discs at `spots` cover the rectangle. */
export function coveringRadiusMm(spots: readonly Spot[], rectangle: RectangleMm): number {
  return criticalPoints(spots, rectangle).reduce((max, p) => Math.max(max, p.reachMm), 0);
}
