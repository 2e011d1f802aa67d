/**
 * The reference tables a plan is computed with: those of the figures, and how much blue light
 * passes an indirect material. They arrive as parsed JSON, so that this folder reads no files.
 */
import type { Problem } from '../base/problem.ts';
import { ok, type Result } from '../base/result.ts';
import {
  readAt,
  readChoice,
  readList,
  readNumber,
  readObject,
  readOr,
  readText,
} from '../calc/reading.ts';
import { type CalcTables, parseCalcTables } from '../calc/tables.ts';

/** Published transmittance of one material at one thickness. */
export interface CeramicRow {
  readonly id: string;
  readonly material: string;
  /** Classes of a case file it may be chosen for; `any` where nothing else is known. */
  readonly serves: readonly string[];
  /** Empty where the source names none. */
  readonly shade: string;
  readonly thicknessMm: number;
  readonly transmittance: number;
  readonly source: string;
  readonly standing: string;
  readonly note: string;
}

export interface PlanTables extends CalcTables {
  readonly ceramics: readonly CeramicRow[];
}

const readCeramics = readObject({
  title: readText(200),
  rows: readList(
    readObject({
      id: readText(60),
      material: readText(60),
      serves: readList(readText(60), { min: 0, max: 10 }),
      shade: readOr(readText(20), ''),
      thicknessMm: readNumber({ above: 0, max: 20 }),
      transmittance: readNumber({ above: 0, max: 1 }),
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
  const ceramics = readAt(readCeramics, 'tables.ceramics', json.ceramics);
  if (!ceramics.ok) return ceramics;
  return ok({ ...calc.value, ceramics: ceramics.value.rows });
}

/**
 * The row to plan with where nothing was measured and nobody chose a row: the lowest share of those
 * that serve any class, so that the computed time is rather too long; null when there is none.
 */
export function darkestRow(rows: readonly CeramicRow[]): CeramicRow | null {
  const usable = rows.filter((row) => row.serves.includes('any'));
  return usable.toSorted((a, b) => a.transmittance - b.transmittance)[0] ?? null;
}

/** Rows that may be chosen for a class of material, thinnest first. */
export function rowsFor(rows: readonly CeramicRow[], material: string): readonly CeramicRow[] {
  return rows
    .filter((row) => row.serves.includes(material))
    .toSorted((a, b) => a.thicknessMm - b.thicknessMm);
}
