/**
 * Moves a few centres until equal discs of a given radius cover a rectangle, if that succeeds from
 * the given start. Damped least squares (Levenberg 1944, Marquardt 1963) on the points that still
 * stick out. Deterministic. Lengths in mm.
 */
import { type CriticalPoint, criticalPoints, type RectangleMm, type Spot } from './spots-cover.ts';

const STEPS_MAX = 60;
const ROUNDS_MAX = 8;
const DAMPING_MIN = 1e-12;
const DAMPING_MAX = 1e6;
/** A search that has not halved its cost within so many steps is going nowhere. */
const PATIENCE_STEPS = 8;
/** Points that reach less far than this share of the radius cannot be pushed out by one move. */
const NEAR = 0.7;
/** Aim a hair inside the radius, so that rounding cannot leave the answer a hair outside. */
const AIM = 1 - 1e-10;

/** Solves the symmetric positive definite system a x = b in place; both are overwritten. */
function solve(a: Float64Array[], b: Float64Array): Float64Array {
  const size = b.length;
  for (let pivot = 0; pivot < size; pivot += 1) {
    const pivotRow = a[pivot] ?? new Float64Array(size);
    for (let row = pivot + 1; row < size; row += 1) {
      const current = a[row] ?? new Float64Array(size);
      const factor = (current[pivot] ?? 0) / (pivotRow[pivot] ?? 1);
      if (factor === 0) continue;
      for (let column = pivot; column < size; column += 1) {
        current[column] = (current[column] ?? 0) - factor * (pivotRow[column] ?? 0);
      }
      b[row] = (b[row] ?? 0) - factor * (b[pivot] ?? 0);
    }
  }
  for (let row = size - 1; row >= 0; row -= 1) {
    const current = a[row] ?? new Float64Array(size);
    let sum = b[row] ?? 0;
    for (let column = row + 1; column < size; column += 1) {
      sum -= (current[column] ?? 0) * (b[column] ?? 0);
    }
    b[row] = sum / (current[row] ?? 1);
  }
  return b;
}

/** How a point's reach changes with each coordinate of each centre: [x0, y0, x1, y1, ...]. */
function gradient(point: CriticalPoint, spots: readonly Spot[]): Float64Array {
  const slope = new Float64Array(spots.length * 2);
  for (const { index, weight } of point.holders) {
    const spot = spots[index];
    if (spot === undefined) continue;
    slope[2 * index] = (-weight * (point.xMm - spot.xMm)) / point.reachMm;
    slope[2 * index + 1] = (-weight * (point.yMm - spot.yMm)) / point.reachMm;
  }
  return slope;
}

interface Linear {
  readonly slope: Float64Array;
  /** Reach minus the aimed radius, in mm; above 0 where the point sticks out. */
  readonly overMm: number;
}

function linearOver(point: Linear, move: Float64Array): number {
  return point.slope.reduce((sum, value, at) => sum + value * (move[at] ?? 0), point.overMm);
}

/** The damped least-squares move that pulls the given points in to the aimed radius. */
function pull(points: readonly Linear[], size: number, damping: number): Float64Array {
  const normal = Array.from({ length: size }, () => new Float64Array(size));
  const right = new Float64Array(size);
  for (const { slope, overMm } of points) {
    normal.forEach((target, row) => {
      const value = slope[row] ?? 0;
      if (value === 0) return;
      right[row] = (right[row] ?? 0) - value * overMm;
      for (let column = 0; column < size; column += 1) {
        target[column] = (target[column] ?? 0) + value * (slope[column] ?? 0);
      }
    });
  }
  normal.forEach((row, at) => {
    row[at] = (row[at] ?? 0) + damping;
  });
  return solve(normal, right);
}

/**
 * One move. A point that the move itself would push out is drawn into the sum before the move is
 * made, because otherwise the search swings between two sets of points.
 */
function bestMove(points: readonly Linear[], size: number, damping: number): Float64Array {
  let active = points.filter((point) => point.overMm > 0);
  let move = pull(active, size, damping);
  for (let round = 0; round < ROUNDS_MAX; round += 1) {
    const next = points.filter((point) => linearOver(point, move) > 0 || active.includes(point));
    if (next.length === active.length) break;
    active = next;
    move = pull(active, size, damping);
  }
  return move;
}

interface Fit {
  readonly spots: readonly Spot[];
  readonly points: readonly Linear[];
  readonly cost: number;
  readonly worstMm: number;
}

function measure(spots: readonly Spot[], rectangle: RectangleMm, aimMm: number): Fit {
  const near = criticalPoints(spots, rectangle).filter((point) => point.reachMm > aimMm * NEAR);
  const points = near.map((point) => ({
    slope: gradient(point, spots),
    overMm: point.reachMm - aimMm,
  }));
  return {
    spots,
    points,
    cost: points.reduce((sum, { overMm }) => sum + Math.max(0, overMm) ** 2, 0),
    worstMm: points.reduce((max, { overMm }) => Math.max(max, overMm), 0),
  };
}

/**
 * Centres from which discs of `radiusMm` cover the rectangle, found near `start`; null when the
 * search ends without one (which does not prove that none exists).
 */
export function fitSpots(options: {
  readonly start: readonly Spot[];
  readonly rectangle: RectangleMm;
  readonly radiusMm: number;
}): readonly Spot[] | null {
  const aimMm = options.radiusMm * AIM;
  const enoughMm = options.radiusMm * (1 - AIM);
  const size = options.start.length * 2;
  let fit = measure(options.start, options.rectangle, aimMm);
  let damping = 1e-3;
  let costBefore = Number.POSITIVE_INFINITY;
  for (let count = 0; count < STEPS_MAX && fit.worstMm > enoughMm; count += 1) {
    if (count % PATIENCE_STEPS === 0) {
      if (fit.cost > costBefore / 2) return null;
      costBefore = fit.cost;
    }
    const move = bestMove(fit.points, size, damping);
    const moved = fit.spots.map((spot, i) => ({
      xMm: spot.xMm + (move[2 * i] ?? 0),
      yMm: spot.yMm + (move[2 * i + 1] ?? 0),
    }));
    const next = measure(moved, options.rectangle, aimMm);
    if (next.cost < fit.cost) {
      fit = next;
      damping = Math.max(damping / 5, DAMPING_MIN);
    } else {
      damping *= 8;
      if (damping > DAMPING_MAX) return null;
    }
  }
  return fit.worstMm <= enoughMm ? fit.spots : null;
}
