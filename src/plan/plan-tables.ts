/**
 * The reference tables a plan is computed with: those of the figures, and how much blue light
 * passes an indirect material. They arrive as parsed JSON, so that this folder reads no files.
 */
import type { Problem } from '../base/problem.ts';
import { ok, type Result } from '../base/result.ts';
import { readChoice, readList, readNumber, readObject, readOr, readText } from '../calc/reading.ts';
import { type CalcTables, parseCalcTables } from '../calc/tables.ts';

/** Measured transmittance of one class of material at one thickness; `any` serves every class. */
export interface CeramicRow {
  readonly material: string;
  readonly thicknessMm: number;
  readonly transmittanceMin: number;
  readonly transmittanceMax: number;
  readonly source: string;
}

export interface PlanTables extends CalcTables {
  readonly ceramics: readonly CeramicRow[];
}

const readShare = readNumber({ above: 0, max: 1 });

const readCeramics = readObject({
  title: readText(200),
  rows: readList(
    readObject({
      material: readText(60),
      thicknessMm: readNumber({ above: 0, max: 20 }),
      transmittanceMin: readShare,
      transmittanceMax: readShare,
      source: readText(600),
      standing: readChoice(['found', 'from memory', 'derived', 'common practice']),
      note: readOr(readText(300), ''),
    }),
    { min: 1, max: 200 },
  ),
});

/**
 * Reads all tables of a plan from parsed JSON.
 * @returns the tables, or the first problem found.
 */
export function parsePlanTables(json: {
  readonly blueLight: unknown;
  readonly crowns: unknown;
  readonly ceramics: unknown;
}): Result<PlanTables, Problem> {
  const calc = parseCalcTables(json);
  if (!calc.ok) return calc;
  const ceramics = readCeramics('tables.ceramics', json.ceramics);
  if (!ceramics.ok) return ceramics;
  return ok({ ...calc.value, ceramics: ceramics.value.rows });
}

/**
 * The row to plan with: of the material's own class if there is one, and of those the one nearest
 * in thickness.
 */
export function ceramicRow(
  rows: readonly CeramicRow[],
  ceramic: { readonly material: string; readonly thicknessMm: number },
): CeramicRow | null {
  const own = rows.filter((row) => row.material === ceramic.material);
  const usable = own.length > 0 ? own : rows.filter((row) => row.material === 'any');
  const gap = (row: CeramicRow): number => Math.abs(row.thicknessMm - ceramic.thicknessMm);
  return usable.toSorted((a, b) => gap(a) - gap(b))[0] ?? null;
}
