/**
 * Coverings of a rectangle of any size by equal discs in rows and columns: a plain grid, and
 * staggered columns, which come close to the thinnest covering of the plane (Kershner, Amer. J.
 * Math. 1939;61:665-671). Each covers by construction. Lengths in mm.
 */
import type { RectangleMm, Spot } from './spots-cover.ts';

/** Allows for rounding where a disc fits its cell exactly. */
const ROUNDING = 1e-12;

interface Pattern {
  readonly count: number;
  readonly build: () => readonly Spot[];
}

function evenly(count: number, lengthMm: number): number[] {
  return Array.from({ length: count }, (_, at) => ((at + 0.5) * lengthMm) / count);
}

/** `columns` x `rows` cells, a disc around each. */
export function gridSpots(
  rectangle: RectangleMm,
  cells: { readonly columns: number; readonly rows: number },
): readonly Spot[] {
  return evenly(cells.columns, rectangle.widthMm).flatMap((xMm) =>
    evenly(cells.rows, rectangle.heightMm).map((yMm) => ({ xMm, yMm })),
  );
}

/** The radius with which discs around the cells of a grid cover them. */
export function gridRadiusMm(
  rectangle: RectangleMm,
  cells: { readonly columns: number; readonly rows: number },
): number {
  return Math.hypot(rectangle.widthMm / cells.columns, rectangle.heightMm / cells.rows) / 2;
}

/** The fewest columns that suffice with `rows` rows, or null when the rows are too far apart. */
function gridPattern(rectangle: RectangleMm, radiusMm: number, rows: number): Pattern | null {
  const half = rectangle.heightMm / rows / 2;
  if (half >= radiusMm) return null;
  const cellWidth = 2 * Math.sqrt(radiusMm ** 2 - half ** 2);
  const columns = Math.max(1, Math.ceil((rectangle.widthMm / cellWidth) * (1 - ROUNDING)));
  return { count: rows * columns, build: () => gridSpots(rectangle, { columns, rows }) };
}

/** Heights of the discs of one column: `first`, then every `apart`. */
function column(count: number, first: number, apart: number): number[] {
  return Array.from({ length: count }, (_, at) => first + at * apart);
}

/**
 * Columns of discs `apartMm` apart, every second one shifted by half of that. A column covers a
 * strip of half width u = sqrt(r^2 - (apart / 2)^2); the next may stand r + u away.
 */
function staggeredPattern(
  rectangle: RectangleMm,
  radiusMm: number,
  stagger: {
    readonly apartMm: number;
    readonly even: readonly number[];
    readonly odd: readonly number[];
  },
): Pattern | null {
  const { widthMm } = rectangle;
  const { apartMm, even, odd } = stagger;
  if (apartMm >= 2 * radiusMm) return null;
  const u = Math.sqrt(radiusMm ** 2 - (apartMm / 2) ** 2);
  const beyond = Math.max(0, (widthMm - 2 * u) / (radiusMm + u));
  const columns = 1 + Math.ceil(beyond * (1 - ROUNDING));
  const pitch = columns === 1 ? 0 : (widthMm - 2 * u) / (columns - 1);
  const first = columns === 1 ? widthMm / 2 : u;
  return {
    count: Math.ceil(columns / 2) * even.length + Math.floor(columns / 2) * odd.length,
    build: () =>
      Array.from({ length: columns }, (_, at) =>
        (at % 2 === 0 ? even : odd).map((yMm) => ({ xMm: first + at * pitch, yMm })),
      ).flat(),
  };
}

function patternsWith(rectangle: RectangleMm, radiusMm: number, rows: number): Pattern[] {
  const { heightMm } = rectangle;
  const equalApart = heightMm / (rows - 0.5);
  const extraApart = heightMm / rows;
  const plain = column(rows, extraApart / 2, extraApart);
  const extra = column(rows + 1, 0, extraApart);
  const found = [
    gridPattern(rectangle, radiusMm, rows),
    staggeredPattern(rectangle, radiusMm, {
      apartMm: equalApart,
      even: column(rows, equalApart / 2, equalApart),
      odd: column(rows, 0, equalApart),
    }),
    staggeredPattern(rectangle, radiusMm, { apartMm: extraApart, even: plain, odd: extra }),
    staggeredPattern(rectangle, radiusMm, { apartMm: extraApart, even: extra, odd: plain }),
  ];
  return found.filter((pattern) => pattern !== null);
}

function bestUpright(rectangle: RectangleMm, radiusMm: number): Pattern | null {
  const rowsMin = Math.max(1, Math.floor(rectangle.heightMm / (2 * radiusMm)));
  let best: Pattern | null = null;
  // More rows than about three times the fewest only add discs.
  for (let rows = rowsMin; rows <= 3 * rowsMin + 3; rows += 1) {
    for (const pattern of patternsWith(rectangle, radiusMm, rows)) {
      if (best === null || pattern.count < best.count) best = pattern;
    }
  }
  return best;
}

/** The pattern with the fewest discs, standing or lying. */
export function patternSpots(rectangle: RectangleMm, radiusMm: number): readonly Spot[] {
  const lying = { widthMm: rectangle.heightMm, heightMm: rectangle.widthMm };
  const upright = bestUpright(rectangle, radiusMm);
  const turned = bestUpright(lying, radiusMm);
  if (turned !== null && (upright === null || turned.count < upright.count)) {
    return turned.build().map(({ xMm, yMm }) => ({ xMm: yMm, yMm: xMm }));
  }
  return upright?.build() ?? [];
}
