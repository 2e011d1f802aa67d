/**
 * The reference tables that some figures need. They are JSON files with a source for each row; the
 * caller loads them and hands them in, so that this folder reads no files.
 */
import type { Problem } from '../base/problem.ts';
import { ok, type Result } from '../base/result.ts';
import type { AnaesthesiaTable } from './anaesthesia-rows.ts';
import {
  readAt,
  readChoice,
  readList,
  readNumber,
  readObject,
  readOr,
  readText,
} from './reading.ts';

const readStanding = readChoice(['found', 'from memory', 'derived', 'common practice']);
const readSource = readText(600);

/** Blue-light hazard weight B at one wavelength; dimensionless, 0 to 1. */
export interface BlueLightRow {
  readonly wavelengthNm: number;
  readonly weight: number;
}

/** Mean size of one kind of tooth; the same on both sides of the mouth. */
export interface CrownRow {
  readonly jaw: 'upper' | 'lower';
  /** 1 (central incisor) to 8 (third molar), counted from the midline. */
  readonly position: number;
  readonly crownLengthMm: number;
  readonly mesiodistalMm: number;
  readonly buccolingualMm: number;
  readonly source: string;
  readonly note: string;
}

export interface CalcTables {
  readonly blueLight: readonly BlueLightRow[];
  readonly crowns: readonly CrownRow[];
  /** Only where it is asked for: no plan is computed with it. */
  readonly anaesthesia?: AnaesthesiaTable;
}

const readBlueLight = readObject({
  title: readText(200),
  rows: readList(
    readObject({
      wavelengthNm: readNumber({ min: 300, max: 700 }),
      weight: readNumber({ min: 0, max: 1 }),
      source: readSource,
      standing: readStanding,
      note: readOr(readText(300), ''),
    }),
    { min: 2, max: 500 },
  ),
});

const readCrowns = readObject({
  title: readText(200),
  rows: readList(
    readObject({
      jaw: readChoice(['upper', 'lower']),
      position: readNumber({ min: 1, max: 8, whole: true }),
      crownLengthMm: readNumber({ above: 0, max: 30 }),
      mesiodistalMm: readNumber({ above: 0, max: 30 }),
      buccolingualMm: readNumber({ above: 0, max: 30 }),
      source: readSource,
      standing: readStanding,
      note: readOr(readText(300), ''),
    }),
    { min: 16, max: 16 },
  ),
});

/**
 * Reads the two tables from parsed JSON.
 * @returns the tables with wavelengths in rising order, or the first problem found.
 */
export function parseCalcTables(json: {
  readonly blueLight: unknown;
  readonly crowns: unknown;
}): Result<CalcTables, Problem> {
  const blueLight = readAt(readBlueLight, 'tables.blueLight', json.blueLight);
  if (!blueLight.ok) return blueLight;
  const crowns = readAt(readCrowns, 'tables.crowns', json.crowns);
  if (!crowns.ok) return crowns;
  return ok({
    blueLight: blueLight.value.rows.toSorted((a, b) => a.wavelengthNm - b.wavelengthNm),
    crowns: crowns.value.rows,
  });
}
