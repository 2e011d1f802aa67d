/**
 * Share of the light that passes a unit, with the tip held square on: measured on it, of a row that
 * somebody chose, of the rows of its class, or of the darkest row where the class has none. Lengths
 * in mm.
 */
import { scaledTransmittance, transmittanceCalc } from '../calc/light-dose.ts';
import type { Unit } from '../protocol/case-types.ts';
import { type Explained, explain, sourceOf } from './explanation.ts';
import { type CeramicRow, darkestRow, type PlanTables, rowsFor } from './plan-tables.ts';

/** No meter reads less behind a restoration; what is computed below it is planned as this (own choice). */
const SHARE_FLOOR = 1e-6;

/** Rows of lithium disilicate in a light shade and high translucency stand for the glass ceramics. */
const GLASS_ROW = 'lithium-disilicate';

/**
 * What a less translucent or darker glass ceramic passes less, as a share of the light: LT 2.66 and
 * shade A3.5 2.18 points below (Braz Dent J regression, one to five mm); medium opacity, or both, is
 * extended from them. Known from 1.0 mm on; above 1.5 mm the same part of the share is taken off.
 */
const LESS_LOW_TRANSLUCENCY = 0.027;
const LESS_DARK = 0.022;
const LESS_BOTH = 0.05;
const LESS_FROM_MM = 1;
const LESS_TO_MM = 1.5;

const isDark = (shade: string | undefined): boolean =>
  shade !== undefined && /dark|\b[A-D](?:3\.5|4)\b/i.test(shade);

/** What this unit passes less than the row of its class says, in the range in which it is known. */
function lessOf(unit: Unit): number {
  const dark = isDark(unit.shade);
  if (unit.opacity === 'medium-opacity' || unit.opacity === 'opaque') return LESS_BOTH;
  if (unit.opacity === 'low-translucency') return dark ? LESS_BOTH : LESS_LOW_TRANSLUCENCY;
  return dark ? LESS_DARK : 0;
}

/** The two rows around a thickness, or the last two below it; one where it is thinner than all. */
function rowsAround(rows: readonly CeramicRow[], mm: number): readonly CeramicRow[] {
  const [first] = rows;
  if (first === undefined) return [];
  if (mm <= first.thicknessMm) return [first];
  const above = rows.findIndex((row) => row.thicknessMm >= mm);
  const exact = rows[above];
  if (exact?.thicknessMm === mm) return [exact];
  const at = above < 0 ? rows.length - 1 : above;
  return rows.slice(Math.max(0, at - 1), at + 1);
}

interface RowShare {
  readonly share: number;
  /** What `calc transmittance` makes the same figure of; null where it cannot. */
  readonly input: Record<string, number> | null;
  readonly sources: readonly string[];
}

/** The share at a thickness, exponential between the rows of a class. */
function shareOfRows(rows: readonly CeramicRow[], mm: number): RowShare | null {
  const [a, b] = rowsAround(rows, mm);
  if (a === undefined) return null;
  // Thinner than the thinnest piece that was measured counts as that piece.
  const thicknessMm = Math.max(mm, a.thicknessMm);
  const known = { knownTransmittance: a.transmittance, knownThicknessMm: a.thicknessMm };
  if (b === undefined) {
    if (thicknessMm === a.thicknessMm) {
      const input = { ...known, thicknessMm, surfaceFactor: 1 };
      return { share: a.transmittance, input, sources: [a.source] };
    }
    const input = { ...known, thicknessMm, surfaceFactor: 1 };
    const scaled = scaledTransmittance(input);
    return scaled.ok ? { share: scaled.value, input, sources: [a.source] } : null;
  }
  const perMm = Math.log(a.transmittance / b.transmittance) / (b.thicknessMm - a.thicknessMm);
  const share = a.transmittance * Math.exp(-perMm * (thicknessMm - a.thicknessMm));
  // Through both rows goes one exponential; where it begins above 1 it is no share of light.
  const surfaceFactor = a.transmittance * Math.exp(perMm * a.thicknessMm);
  const input = surfaceFactor <= 1 ? { ...known, thicknessMm, surfaceFactor } : null;
  return { share, input, sources: [...new Set([a.source, b.source])] };
}

/** Where a less translucent or dark unit passes less than the rows of its class. */
function reduced(rows: readonly CeramicRow[], o: { unit: Unit; mm: number; share: number }) {
  const less = lessOf(o.unit);
  const glass = rows.some((row) => row.serves.includes(GLASS_ROW));
  if (less === 0 || !glass || o.mm < LESS_FROM_MM) return null;
  if (o.mm <= LESS_TO_MM) return Math.max(SHARE_FLOOR, o.share - less);
  const at = shareOfRows(rows, LESS_TO_MM)?.share ?? 0;
  return at > less ? (o.share * (at - less)) / at : SHARE_FLOOR;
}

function ofClass(
  rows: readonly CeramicRow[],
  unit: Unit,
  thicknessMm: number,
): Explained<number> | null {
  const found = shareOfRows(rows, thicknessMm);
  if (found === null) return null;
  const less = reduced(rows, { unit, mm: thicknessMm, share: found.share });
  const value = Math.max(SHARE_FLOOR, less ?? found.share);
  const calc = less === null && value === found.share ? found.input : null;
  const sources = found.sources.join('; ');
  const points =
    'less for low translucency or a dark shade after the regression in Braz Dent J (lithium disilicate, one to five mm)';
  const why = explain({
    id: `transmittance/${unit.id}`,
    value,
    unit: 'share',
    formula: 'transmittance-at-this-thickness',
    inputs: {
      thicknessMm,
      material: unit.material,
      ...found.input,
      ...(less === null ? {} : { opacity: unit.opacity ?? '', shade: unit.shade ?? '' }),
    },
    source: less === null ? sources : `${sources}; ${points}`,
    calc: calc === null ? null : { name: transmittanceCalc.name, input: calc },
    decidedBy: 'table',
  });
  return { value, why: [why] };
}

/** The share of one known piece, scaled to another thickness. */
function ofPiece(
  unit: Unit,
  piece: {
    readonly share: number;
    readonly atThicknessMm: number;
    readonly basis: string;
    readonly decidedBy: 'measured' | 'published-row' | 'table';
  },
  thicknessMm: number,
): Explained<number> | null {
  const input = {
    knownTransmittance: piece.share,
    knownThicknessMm: piece.atThicknessMm,
    thicknessMm,
    surfaceFactor: 1,
  };
  const scaled = scaledTransmittance(input);
  if (!scaled.ok) return null;
  const value = Math.max(SHARE_FLOOR, scaled.value);
  const why = explain({
    id: `transmittance/${unit.id}`,
    value,
    unit: 'share',
    formula: 'transmittance-at-this-thickness',
    inputs: { ...input, material: unit.material },
    source: `${piece.basis}; ${sourceOf(transmittanceCalc, input)}`,
    calc: { name: transmittanceCalc.name, input },
    decidedBy: piece.decidedBy,
  });
  return { value, why: [why] };
}

/**
 * Share of the light that passes a unit of a thickness; null when no row can say.
 * @param thicknessMm what the light has to pass, above 0.
 */
export function unitShare(o: {
  readonly unit: Unit;
  readonly thicknessMm: number;
  readonly tables: Pick<PlanTables, 'ceramics'> | null;
}): Explained<number> | null {
  const { unit, thicknessMm, tables } = o;
  const own = unit.transmittance;
  if (own !== undefined) {
    const decidedBy = own.kind === 'measured' ? 'measured' : 'published-row';
    return ofPiece(unit, { ...own, decidedBy }, thicknessMm);
  }
  const rows = rowsFor(tables?.ceramics ?? [], unit.material);
  if (rows.length > 0) return ofClass(rows, unit, thicknessMm);
  const dark = darkestRow(tables?.ceramics ?? []);
  if (dark === null) return null;
  const { transmittance: share, thicknessMm: atThicknessMm, source: basis } = dark;
  return ofPiece(unit, { share, atThicknessMm, basis, decidedBy: 'table' }, thicknessMm);
}
