/** From stored or handed-on data to a product sheet and to the draft of one. */
import * as v from 'valibot';
import type { Problem } from '../base/problem.ts';
import type { Result } from '../base/result.ts';
import { readOutside } from './read-outside.ts';
import { dateSchema, idSchema, inRange, list, maybe, oneOf, record, text } from './schema-parts.ts';
import { type ProductSheet, SHEET_BOUNDS, SHEET_GROUPS, SHEET_UNITS } from './sheet-types.ts';

/** Documents of instructions have some 40 numbers. */
const SHEET_LINES_MAX = 200;
/** One number stands in a few steps of a few protocols. */
const LINE_SPOTS_MAX = 60;
const IDENTIFIERS_MAX = 60;

export const sheetSpotSchema = record(
  {
    protocol: idSchema,
    part: oneOf(['steps', 'windows']),
    id: idSchema,
    key: text('the key of a figure'),
    where: maybe(text('what a variant is for')),
    used: maybe(v.literal(true, 'true, or left out')),
  },
  'a place { protocol, part, id, key, … }',
);

export const sheetReadingSchema = record(
  { how: oneOf(['same', 'typed']), by: text('who read it'), on: dateSchema },
  'a reading { how, by, on }',
);

export const sheetLineSchema = record(
  {
    id: idSchema,
    group: oneOf(SHEET_GROUPS),
    title: maybe(text('what it is called')),
    value: inRange({ min: -100, max: 1_000_000 }, 'in the unit of the line'),
    unit: oneOf(SHEET_UNITS),
    bound: oneOf(SHEET_BOUNDS),
    temperatureC: maybe(inRange({ min: -50, max: 100 }, 'C')),
    asWritten: text('the words of the document'),
    page: maybe(text('the page')),
    spots: list(sheetSpotSchema, 'a list of places', LINE_SPOTS_MAX),
    read: maybe(sheetReadingSchema),
  },
  'a line { id, group, value, unit, bound, asWritten, spots, … }',
);

const sheetSchema = record(
  {
    format: v.literal('lutewatch-sheet', 'lutewatch-sheet'),
    formatVersion: v.literal(1, 'format version 1'),
    id: idSchema,
    materialClass: text('the generic class of the material'),
    document: text('the name of the document'),
    revision: text('the revision or date of the document'),
    date: maybe(dateSchema),
    pages: maybe(text('which pages there are')),
    deviceIdentifiers: maybe(list(text('a device identifier'), 'identifiers', IDENTIFIERS_MAX)),
    lines: v.pipe(
      list(sheetLineSchema, 'a list of lines', SHEET_LINES_MAX),
      v.check(
        (lines) => new Set(lines.map(({ id }) => id)).size === lines.length,
        'lines with an id of their own each',
      ),
    ),
  },
  'a product sheet { format, id, materialClass, document, revision, lines }',
);

/** Reads one sheet. Errors: every problem with its place. */
export function parseSheet(value: unknown): Result<ProductSheet, readonly [Problem, ...Problem[]]> {
  return readOutside(sheetSchema, value, 'sheet');
}
