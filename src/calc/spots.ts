/**
 * Where to hold a round tip so that its disc covers every point of a rectangle, with as few
 * positions as the best known coverings of a rectangle by equal discs up to seven (Heppes &
 * Melissen, Period. Math. Hungar. 1997;34:65-81; Melissen & Schuur, Discrete Appl. Math.
 * 2000;99:149-156), and few, though not proven fewest, beyond. Lengths in mm.
 *
 * Up to seven, each count is tried from one start per known structure and moved until the discs
 * cover; every answer is then checked on its own before it is given.
 */
import { type Problem, problem } from '../base/problem.ts';
import { err, ok, type Result } from '../base/result.ts';
import { type Calc, defineCalc } from './calc.ts';
import { readNumber, readObject } from './reading.ts';
import { discsCover } from './spots-check.ts';
import { coveringRadiusMm, type RectangleMm, type Spot } from './spots-cover.ts';
import { fitSpots } from './spots-fit.ts';
import { gridRadiusMm, gridSpots, patternSpots } from './spots-patterns.ts';
import { STRUCTURES } from './spots-structures.ts';

/** Beyond this count discs are laid in patterns. */
const SEARCHED_MAX = 7;
const SPOTS_MAX = 1000;
const ROUNDING = 1e-12;
/** Discs are drawn together to within this share of the smallest radius. */
const TIGHT_ENOUGH = 1e-3;

/**
 * Discs a rectangle needs at least: each covers at most the regular hexagon inscribed in it
 * (Fejes Toth, Lagerungen in der Ebene, 1953; from memory).
 */
function fewestByArea(rectangle: RectangleMm, radiusMm: number): number {
  const hexagon = 1.5 * Math.sqrt(3) * radiusMm ** 2;
  return Math.max(1, Math.ceil((rectangle.widthMm * rectangle.heightMm) / hexagon - ROUNDING));
}

/** Draws the discs together until they cover with the smallest radius reached from here. */
function tightened(spots: readonly Spot[], rectangle: RectangleMm): readonly Spot[] {
  let best = spots;
  let shrink = 0.05;
  while (shrink > TIGHT_ENOUGH) {
    const radiusMm = coveringRadiusMm(best, rectangle) * (1 - shrink);
    const closer = fitSpots({ start: best, rectangle, radiusMm });
    if (closer === null) shrink /= 5;
    else best = closer;
  }
  return best;
}

/** A row along the longer side, which is the answer for one, two and for long rectangles. */
function rowSpots(rectangle: RectangleMm, radiusMm: number, count: number) {
  const cells = { columns: count, rows: 1 };
  const fits = gridRadiusMm(rectangle, cells) <= radiusMm * (1 + ROUNDING);
  return fits ? gridSpots(rectangle, cells) : null;
}

/** Covers a lying rectangle with exactly `count` discs, or gives null. */
function searchSpots(
  rectangle: RectangleMm,
  radiusMm: number,
  count: number,
): readonly Spot[] | null {
  const row = rowSpots(rectangle, radiusMm, count);
  if (row !== null) return row;
  for (const structure of STRUCTURES.filter((each) => each.length === count)) {
    const start = structure.map(([across, up]) => ({
      xMm: across * rectangle.widthMm,
      yMm: up * rectangle.heightMm,
    }));
    const found = fitSpots({ start, rectangle, radiusMm });
    if (found !== null) return tightened(found, rectangle);
  }
  return null;
}

function lyingSpots(rectangle: RectangleMm, radiusMm: number): readonly Spot[] {
  for (let count = fewestByArea(rectangle, radiusMm); count <= SEARCHED_MAX; count += 1) {
    const spots = searchSpots(rectangle, radiusMm, count);
    if (spots !== null && discsCover(spots, { rectangle, radiusMm })) return spots;
  }
  return patternSpots(rectangle, radiusMm);
}

/**
 * Positions that cover the rectangle [0, width] x [0, height], sorted left to right, then upwards.
 * @param surface sides and tip diameter, each above 0 mm.
 * @returns the positions, or a problem when more than 1000 would be needed.
 */
export function coveringSpots(surface: {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly tipDiameterMm: number;
}): Result<readonly Spot[], Problem> {
  const radiusMm = surface.tipDiameterMm / 2;
  const isLying = surface.widthMm >= surface.heightMm;
  const rectangle = {
    widthMm: Math.max(surface.widthMm, surface.heightMm),
    heightMm: Math.min(surface.widthMm, surface.heightMm),
  };
  const place = 'calc.spots.tipDiameterMm';
  const tooSmall = problem(
    place,
    `a tip that covers the surface in at most ${SPOTS_MAX} positions`,
    surface.tipDiameterMm,
    'too-many-spots',
  );
  const rowMin = rectangle.widthMm / surface.tipDiameterMm;
  if (Math.max(rowMin, fewestByArea(rectangle, radiusMm)) > SPOTS_MAX) return err(tooSmall);
  const lying = lyingSpots(rectangle, radiusMm);
  if (lying.length > SPOTS_MAX) return err(tooSmall);
  const spots = isLying ? lying : lying.map(({ xMm, yMm }) => ({ xMm: yMm, yMm: xMm }));
  return discsCover(spots, { rectangle: surface, radiusMm })
    ? ok(spots.toSorted((a, b) => a.xMm - b.xMm || a.yMm - b.yMm))
    : err(problem(place, 'a surface whose covering can be confirmed', surface.tipDiameterMm));
}

const readSide = readNumber({ above: 0, sane: 1000 });

/** `spots`: how many positions of the tip cover a rectangle, and where they are. */
export const spotsCalc: Calc = defineCalc(
  {
    name: 'spots',
    about: 'fewest known positions of a round tip that cover a rectangle',
    source:
      'best known coverings of a rectangle by up to seven equal discs: Heppes & Melissen, Period. Math. Hungar. 1997;34:65-81; Melissen & Schuur, Discrete Appl. Math. 2000;99:149-156; beyond, staggered rows after Kershner, Amer. J. Math. 1939;61:665-671',
  },
  readObject({ widthMm: readSide, heightMm: readSide, tipDiameterMm: readSide }),
  (input) => {
    const spots = coveringSpots(input);
    return spots.ok ? ok({ count: spots.value.length, spots: spots.value }) : spots;
  },
);
