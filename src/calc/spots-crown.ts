/**
 * Where to hold a round tip so that its discs cover nine tenths of one surface of a crown, its
 * outline taken as an ellipse: the corners of the rectangle around it are gum and neighbours.
 * Lengths in mm, from the lower left corner of that rectangle.
 *
 * A row along the longer axis is tried first, then rings, each moved until no small step covers
 * more; so the counts are few, though not proven fewest. Every cover is measured in slices.
 */
import { type Problem, problem } from '../base/problem.ts';
import { err, ok, type Result } from '../base/result.ts';
import { type Calc, defineCalc } from './calc.ts';
import { readNumber, readObject } from './reading.ts';
import type { RectangleMm, Spot } from './spots-cover.ts';

/** Share of the outline that the discs must cover (rule of the trade, no source). */
const CROWN_COVER_SHARE = 0.9;

/** Beyond this count the tip is held over every cell of a plain grid instead. */
const SEARCHED_MAX = 7;
const SPOTS_MAX = 1000;
const SLICES = 240;
const SLICES_ROUGH = 48;

interface Outline extends RectangleMm {
  readonly radiusMm: number;
}

/** Length of the union of the discs with one upright slice of the ellipse. */
function coveredAt(xMm: number, halfMm: number, o: { spots: readonly Spot[]; outline: Outline }) {
  const { spots, outline } = o;
  const middle = outline.heightMm / 2;
  const parts = spots.flatMap((spot): (readonly [number, number])[] => {
    const reach = outline.radiusMm ** 2 - (spot.xMm - xMm) ** 2;
    if (reach <= 0) return [];
    const low = Math.max(spot.yMm - Math.sqrt(reach), middle - halfMm);
    const high = Math.min(spot.yMm + Math.sqrt(reach), middle + halfMm);
    return high > low ? [[low, high]] : [];
  });
  parts.sort((a, b) => a[0] - b[0]);
  let covered = 0;
  let end = Number.NEGATIVE_INFINITY;
  for (const [low, high] of parts) {
    covered += Math.max(0, high - Math.max(low, end));
    end = Math.max(end, high);
  }
  return covered;
}

/**
 * Share of the ellipse with these sides that discs of a radius cover, 0 to 1.
 * @param slices how finely it is measured; the error falls with it.
 */
export function ellipseShare(
  spots: readonly Spot[],
  outline: Outline,
  slices: number = SLICES,
): number {
  const { widthMm, heightMm } = outline;
  let whole = 0;
  let covered = 0;
  for (let i = 0; i < slices; i += 1) {
    const across = ((i + 0.5) / slices) * 2 - 1;
    const halfMm = (heightMm / 2) * Math.sqrt(1 - across ** 2);
    whole += 2 * halfMm;
    covered += coveredAt(((across + 1) / 2) * widthMm, halfMm, { spots, outline });
  }
  return covered / whole;
}

const isEnough = (spots: readonly Spot[], outline: Outline): boolean =>
  ellipseShare(spots, outline) >= CROWN_COVER_SHARE;

/** `count` places on the longer axis, as far apart as covers most. */
function rowOf(count: number, outline: Outline): readonly Spot[] {
  const { widthMm, heightMm } = outline;
  const longMm = Math.max(widthMm, heightMm);
  const at = (apartMm: number): readonly Spot[] =>
    Array.from({ length: count }, (_, i) => {
      const alongMm = (i - (count - 1) / 2) * apartMm;
      return widthMm >= heightMm
        ? { xMm: widthMm / 2 + alongMm, yMm: heightMm / 2 }
        : { xMm: widthMm / 2, yMm: heightMm / 2 + alongMm };
    });
  if (count === 1) return at(0);
  const steps = Array.from({ length: 24 }, (_, i) => ((i + 1) / 24) * (longMm / (count - 1)));
  const shares = steps.map((mm) => ellipseShare(at(mm), outline, SLICES_ROUGH));
  return at(steps[shares.indexOf(Math.max(...shares))] ?? 0);
}

/** A ring of places, or a ring around one in the middle. */
function ringOf(count: number, outline: Outline, hasMiddle: boolean): readonly Spot[] {
  const { widthMm, heightMm } = outline;
  const around = hasMiddle ? count - 1 : count;
  const ring = Array.from({ length: around }, (_, i) => {
    const angle = (2 * Math.PI * i) / around + Math.PI / 2;
    const reach = hasMiddle ? 0.32 : 0.25;
    return {
      xMm: widthMm * (0.5 + reach * Math.cos(angle)),
      yMm: heightMm * (0.5 + reach * Math.sin(angle)),
    };
  });
  return hasMiddle ? [...ring, { xMm: widthMm / 2, yMm: heightMm / 2 }] : ring;
}

/** Moves one place at a time, by ever smaller steps, as long as that covers more. */
function settled(start: readonly Spot[], outline: Outline): readonly Spot[] {
  let best = [...start];
  let share = ellipseShare(best, outline, SLICES_ROUGH);
  for (let stepMm = outline.radiusMm / 3; stepMm > 0.05; stepMm /= 2) {
    for (let i = 0; i < best.length; i += 1) {
      for (const [dx, dy] of [
        [stepMm, 0],
        [-stepMm, 0],
        [0, stepMm],
        [0, -stepMm],
      ] as const) {
        const moved = best.map((s, at) => (at === i ? { xMm: s.xMm + dx, yMm: s.yMm + dy } : s));
        const next = ellipseShare(moved, outline, SLICES_ROUGH);
        if (next <= share) continue;
        best = moved;
        share = next;
      }
    }
  }
  return best;
}

function searched(count: number, outline: Outline): readonly Spot[] | null {
  const row = rowOf(count, outline);
  if (isEnough(row, outline)) return row;
  // One place, or two, cover no more off the axis.
  if (count < 3) return null;
  for (const hasMiddle of [false, true]) {
    const moved = settled(ringOf(count, outline, hasMiddle), outline);
    if (isEnough(moved, outline)) return moved;
  }
  return null;
}

/** Cells as wide and high as a square inside the disc, those outside the outline left out. */
function gridOver(outline: Outline): readonly Spot[] {
  const { widthMm, heightMm, radiusMm } = outline;
  const cellMm = radiusMm * Math.SQRT2;
  const [columns, rows] = [Math.ceil(widthMm / cellMm), Math.ceil(heightMm / cellMm)];
  return Array.from({ length: columns * rows }, (_, i) => ({
    xMm: (((i % columns) + 0.5) * widthMm) / columns,
    yMm: ((Math.floor(i / columns) + 0.5) * heightMm) / rows,
  })).filter((spot) => ellipseShare([spot], outline) > 0);
}

/** Places that a tip has on one surface of a crown, and the share of its outline that they cover. */
interface CrownCover {
  readonly spots: readonly Spot[];
  readonly share: number;
}

/**
 * Few places of the tip that cover nine tenths of the outline, left to right, then upwards.
 * @param surface sides of the rectangle around it and tip diameter, each above 0 mm.
 * @returns the places, or a problem when a thousand would not do.
 */
export function crownSpots(surface: {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly tipDiameterMm: number;
}): Result<CrownCover, Problem> {
  const { widthMm, heightMm, tipDiameterMm } = surface;
  const outline = { widthMm, heightMm, radiusMm: tipDiameterMm / 2 };
  const told = (spots: readonly Spot[]) => ({
    spots: spots.toSorted((a, b) => a.xMm - b.xMm || a.yMm - b.yMm),
    share: ellipseShare(spots, outline),
  });
  // Discs cover no more than their own area.
  const least = (CROWN_COVER_SHARE * widthMm * heightMm) / tipDiameterMm ** 2;
  for (let count = Math.max(1, Math.ceil(least)); count <= SEARCHED_MAX; count += 1) {
    const spots = searched(count, outline);
    if (spots !== null) return ok(told(spots));
  }
  if (least > SPOTS_MAX) {
    const words = `a tip that covers the surface in about ${SPOTS_MAX} positions`;
    return err(problem('calc.crown-spots.tipDiameterMm', words, tipDiameterMm, 'too-many-spots'));
  }
  return ok(told(gridOver(outline)));
}

const readSide = readNumber({ above: 0, sane: 1000 });

/** `crown-spots`: how many places of the tip cover the outline of a crown's surface. */
export const crownSpotsCalc: Calc = defineCalc(
  {
    name: 'crown-spots',
    about: 'few places of a round tip that cover nine tenths of an ellipse',
    source:
      'area of an ellipse under a union of equal discs, measured in slices; nine tenths of the outline of the crown is a rule of the trade, without a source',
  },
  readObject({ widthMm: readSide, heightMm: readSide, tipDiameterMm: readSide }),
  (input) => {
    const found = crownSpots(input);
    if (!found.ok) return found;
    const { spots, share } = found.value;
    return ok({ count: spots.length, coveredShare: share, spots });
  },
);
