/**
 * Confirms that equal discs cover a rectangle, by halving it until every part lies inside one disc.
 * Independent of how the discs were found. Lengths in mm.
 */
import type { RectangleMm, Spot } from './spots-cover.ts';

/** A point may lie outside every disc by this share of the radius, which is rounding, not a gap. */
const TOLERANCE = 1e-9;
const DEPTH_MAX = 80;

interface Part {
  readonly left: number;
  readonly right: number;
  readonly low: number;
  readonly high: number;
}

function isInside(part: Part, spot: Spot, reachMm: number): boolean {
  const dx = Math.max(Math.abs(part.left - spot.xMm), Math.abs(part.right - spot.xMm));
  const dy = Math.max(Math.abs(part.low - spot.yMm), Math.abs(part.high - spot.yMm));
  return Math.hypot(dx, dy) <= reachMm;
}

function touches(part: Part, spot: Spot, reachMm: number): boolean {
  const dx = Math.max(part.left - spot.xMm, 0, spot.xMm - part.right);
  const dy = Math.max(part.low - spot.yMm, 0, spot.yMm - part.high);
  return Math.hypot(dx, dy) <= reachMm;
}

function halves({ left, right, low, high }: Part): readonly [Part, Part] {
  if (right - left >= high - low) {
    const middle = (left + right) / 2;
    return [
      { left, right: middle, low, high },
      { left: middle, right, low, high },
    ];
  }
  const middle = (low + high) / 2;
  return [
    { left, right, low, high: middle },
    { left, right, low: middle, high },
  ];
}

function partIsCovered(
  part: Part,
  spots: readonly Spot[],
  limits: { readonly reachMm: number; readonly depth: number },
): boolean {
  const { reachMm, depth } = limits;
  if (spots.some((spot) => isInside(part, spot, reachMm))) return true;
  const near = spots.filter((spot) => touches(part, spot, reachMm));
  if (near.length === 0 || depth === 0) return false;
  const next = { reachMm, depth: depth - 1 };
  return halves(part).every((half) => partIsCovered(half, near, next));
}

/** Whether every point of the rectangle lies within `radiusMm` of a spot, apart from rounding. */
export function discsCover(
  spots: readonly Spot[],
  surface: { readonly rectangle: RectangleMm; readonly radiusMm: number },
): boolean {
  const { rectangle, radiusMm } = surface;
  const whole = { left: 0, right: rectangle.widthMm, low: 0, high: rectangle.heightMm };
  const reachMm = radiusMm * (1 + TOLERANCE);
  return partIsCovered(whole, spots, { reachMm, depth: DEPTH_MAX });
}
