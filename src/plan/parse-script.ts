/**
 * The only way from unknown data to a {@link Script}: rows with their instants in ms since the
 * opening of the case, each with the one thing that happens in it.
 */

import { deepFreeze } from '../base/freeze.ts';
import { fieldsOf } from '../base/json.ts';
import { type Problem, problem } from '../base/problem.ts';
import { err, ok, type Result } from '../base/result.ts';
import { cameWords } from '../protocol/document-problems.ts';
import { parseJsonText } from '../protocol/json-text.ts';
import { readOutside } from '../protocol/read-outside.ts';
import {
  DEEDS,
  pressSchema,
  type ScriptDocument,
  type ScriptRow,
  scriptSchema,
  TIME_MS_MAX,
} from './schema-script.ts';
import { scriptMs } from './script-time.ts';

const NAME = 'script';

/** One row: its place in the document, and when it happens. */
export interface PlacedRow {
  readonly place: string;
  /** Since the opening; null where the row counts from the end of the one before. */
  readonly atMs: number | null;
  readonly afterMs: number;
  readonly row: ScriptRow;
}

export interface Script {
  readonly title: string | null;
  /** Person who presses where a row does not say who. */
  readonly by: string | null;
  readonly rows: readonly PlacedRow[];
}

function rowProblem(place: string, row: ScriptRow): Problem | null {
  const deeds = DEEDS.filter((deed) => row[deed] !== undefined);
  if (deeds.length !== 1) {
    const came = deeds.length === 0 ? cameWords(Object.keys(row).join(', ')) : deeds.join(' and ');
    return { code: 'bad-row', place, expected: `one of ${DEEDS.join(', ')}`, came };
  }
  const pace = row.paceFactor ?? row.until;
  if (row.follow === undefined && pace !== undefined) {
    return problem(place, 'paceFactor and until only beside follow', deeds[0], 'bad-row');
  }
  if (row.at !== undefined && row.after !== undefined) {
    return problem(place, 'at or after, not both', 'both', 'bad-row');
  }
  if (row.at === undefined && row.after === undefined && row.follow === undefined) {
    return problem(`${place}.at`, 'the time of this row', undefined, 'missing');
  }
  return null;
}

const TIMES = ['at', 'after', 'sleep', 'reload', 'settleGap', 'retime', 'moveWall'] as const;

function longTime(place: string, row: ScriptRow): Problem | null {
  for (const key of TIMES) {
    const time = row[key];
    if (time !== undefined && Math.abs(scriptMs(time)) > TIME_MS_MAX) {
      return problem(`${place}.${key}`, 'at most 30 days', time);
    }
  }
  return null;
}

function placeRows(document: ScriptDocument): Result<readonly PlacedRow[], Problem> {
  const rows: PlacedRow[] = [];
  let lastMs = 0;
  for (const [index, row] of document.presses.entries()) {
    const place = `${NAME}.presses[${index}]`;
    const bad = rowProblem(place, row) ?? longTime(place, row);
    if (bad !== null) return err(bad);
    const atMs = row.at === undefined ? null : scriptMs(row.at);
    if (atMs !== null && atMs < lastMs) {
      return err(
        problem(`${place}.at`, `a time not before ${lastMs} ms`, row.at, 'time-backwards'),
      );
    }
    lastMs = atMs ?? lastMs;
    rows.push({ place, atMs, afterMs: scriptMs(row.after ?? 0), row });
  }
  return ok(rows);
}

const PRESS_PLACE = /^script\.presses\[(\d+)\]\.press$/;

/** A press that is an object but no press: what is wrong inside of it. */
function insidePress(fault: Problem, input: unknown): readonly Problem[] {
  const index = PRESS_PLACE.exec(fault.place)?.[1];
  const rows = index === undefined ? null : fieldsOf(input)['presses'];
  const row: unknown = Array.isArray(rows) ? rows[Number(index)] : null;
  const { press } = fieldsOf(row);
  if (typeof press !== 'object') return [fault];
  const inner = readOutside(pressSchema, press, fault.place);
  return inner.ok ? [fault] : inner.error;
}

/** Reads a script. Errors: at most twenty problems of shape, or the first one of meaning. */
export function parseScript(input: unknown): Result<Script, readonly Problem[]> {
  const parsed = readOutside(scriptSchema, input, NAME);
  if (!parsed.ok) return err(parsed.error.flatMap((fault) => insidePress(fault, input)));
  const rows = placeRows(parsed.value);
  if (!rows.ok) return err([rows.error]);
  const { title = null, by = null } = parsed.value;
  return ok(deepFreeze({ title, by, rows: rows.value }));
}

/** Reads a script from text: one problem with line and column when it is not JSON. */
export function parseScriptText(text: string): Result<Script, readonly Problem[]> {
  const json = parseJsonText(text, NAME);
  return json.ok ? parseScript(json.value) : err([json.error]);
}
