/**
 * Mean crown size of a permanent tooth in mm, from the table of crown dimensions handed in. Means
 * of extracted adult teeth: a real tooth differs by a millimetre or more, so a measured size
 * always replaces these.
 */
import { unreachable } from '../base/assert.ts';
import { type Problem, problem } from '../base/problem.ts';
import { err, ok, type Result } from '../base/result.ts';
import { type Calc, defineCalc } from './calc.ts';
import { readObject } from './reading.ts';
import type { CrownRow } from './tables.ts';
import { readFdi, toothByFdi } from './tooth.ts';

/** Seen from the face, a crown is mesiodistal wide and crown length high. */
export type CrownSurface = 'facial' | 'lingual' | 'mesial' | 'distal' | 'occlusal';

/**
 * The row of the table for a tooth.
 * @param fdi ISO 3950 code of a permanent tooth.
 */
export function crownSize(fdi: number, crowns: readonly CrownRow[]): Result<CrownRow, Problem> {
  const tooth = toothByFdi(fdi);
  if (tooth === null) {
    return err(problem('crown.fdi', 'a permanent tooth 11-18, 21-28, 31-38 or 41-48', fdi));
  }
  const row = crowns.find(
    (each) => each.jaw === tooth.jaw && each.position === tooth.palmer.position,
  );
  return row === undefined
    ? err(problem('tables.crowns', `a row for ${tooth.name}`, undefined))
    : ok(row);
}

/** Width and height in mm of the rectangle around one surface of a crown. */
export function surfaceRectangle(
  row: CrownRow,
  surface: CrownSurface,
): { readonly widthMm: number; readonly heightMm: number } {
  switch (surface) {
    case 'facial':
    case 'lingual':
      return { widthMm: row.mesiodistalMm, heightMm: row.crownLengthMm };
    case 'mesial':
    case 'distal':
      return { widthMm: row.buccolingualMm, heightMm: row.crownLengthMm };
    case 'occlusal':
      return { widthMm: row.mesiodistalMm, heightMm: row.buccolingualMm };
    default:
      return unreachable(surface);
  }
}

/** `crown`: mean crown dimensions of one tooth. */
export const crownCalc: Calc = defineCalc(
  {
    name: 'crown',
    about: 'mean crown length, mesiodistal and buccolingual diameter of a tooth, mm',
    source:
      "Ash & Nelson, Wheeler's Dental Anatomy, Physiology and Occlusion, Table 1-1 (read second-hand)",
  },
  readObject({ fdi: readFdi }),
  ({ fdi }, tables) => {
    const row = crownSize(fdi.number, tables.crowns);
    if (!row.ok) return row;
    const { crownLengthMm, mesiodistalMm, buccolingualMm, note } = row.value;
    return ok({ crownLengthMm, mesiodistalMm, buccolingualMm, note });
  },
);
