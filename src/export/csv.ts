/**
 * Comma-separated values after RFC 4180 (2005): CRLF after every row, a header row, fields with
 * commas, semicolons, tabs, quotes or line breaks in double quotes, quotes doubled.
 *
 * A spreadsheet runs text that begins with certain signs as a formula. Text of people that begins
 * with one of them, or with an apostrophe, therefore gets one apostrophe in front; whoever reads the
 * file takes one leading apostrophe away and has the text as it was. Numbers are never touched.
 */

export type Cell = string | number | null;

export interface Column<Row> {
  /** Name with its unit, such as `elapsed_min_ms`. */
  readonly name: string;
  readonly of: (row: Row) => Cell;
}

/** What spreadsheets take for the beginning of a formula, wide forms and control characters too. */
const FORMULA_SIGN = /^['=+\-@\t\r\n＝＋－＠]/;

/** What may not stand bare: spreadsheets of many countries split at semicolons, some at tabs. */
const QUOTED = /[",;\t\r\n]/;

function fieldOf(cell: Cell): string {
  if (cell === null) return '';
  if (typeof cell === 'number') return String(cell);
  const guarded = FORMULA_SIGN.test(cell) ? `'${cell}` : cell;
  return QUOTED.test(guarded) ? `"${guarded.replaceAll('"', '""')}"` : guarded;
}

/** One table. Rows in the order given; a missing value is an empty field. */
export function csv<Row>(columns: readonly Column<Row>[], rows: readonly Row[]): string {
  const header = columns.map(({ name }) => fieldOf(name)).join(',');
  const lines = rows.map((row) => columns.map(({ of }) => fieldOf(of(row))).join(','));
  return [header, ...lines, ''].join('\r\n');
}
