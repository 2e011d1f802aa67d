/** The table of published ranges, from JSON to rows. */
import * as v from 'valibot';
import type { Problem } from '../base/problem.ts';
import { err, ok, type Result } from '../base/result.ts';
import { issuesToProblems } from './document-problems.ts';
import { list, record, text } from './schema-parts.ts';

const bound = v.nullable(v.pipe(v.number('a number or null'), v.minValue(0, 'a number from 0 up')));

const rowSchema = record(
  {
    rangeClass: text('a class of step'),
    of: v.picklist(
      ['dwell', 'coats', 'exposure', 'sweep', 'change-over'],
      'dwell, coats, exposure, sweep or change-over',
    ),
    min: bound,
    max: bound,
    unit: v.picklist(['s', 'coats'], 's or coats'),
    source: text('a source'),
    standing: v.picklist(
      ['found', 'from memory', 'derived', 'common practice'],
      'how the source is known',
    ),
  },
  'a range',
);

const tableSchema = record(
  { title: text('a title'), rows: list(rowSchema, 'a list of ranges') },
  'a table of ranges',
);

export type RangeRow = v.InferOutput<typeof rowSchema>;

/** Reads the table. Errors: where it is not as expected. */
export function parseRanges(input: unknown): Result<readonly RangeRow[], readonly Problem[]> {
  const parsed = v.safeParse(tableSchema, input);
  return parsed.success ? ok(parsed.output.rows) : err(issuesToProblems(parsed.issues, 'ranges'));
}
