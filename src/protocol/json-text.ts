/**
 * Text to JSON, with the place of the first mistake as line and column. Engines disagree on what
 * they say about broken JSON (some give no position at all), so the place is found here, by a
 * scanner that runs only after the engine refused. It needs no recursion, so noise cannot exhaust
 * the stack.
 */
import { type Problem, showCame } from '../base/problem.ts';
import { err, ok, type Result } from '../base/result.ts';

/** Largest document that is read, in UTF-16 code units; a protocol has some 60,000. */
export const TEXT_LENGTH_MAX = 2_000_000;

const SPACE = /[ \t\n\r]*/y;
// Everything from the space upwards but the quote and the backslash; control characters are out.
const STRING = /"[ !#-[\]-\uffff]*(?:\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4})[ !#-[\]-\uffff]*)*"/y;
const OTHER = /-?(?:0|[1-9][0-9]*)(?:\.[0-9]+)?(?:[eE][+-]?[0-9]+)?|true|false|null/y;

type Wanted =
  | 'value'
  | 'value-or-end'
  | 'key'
  | 'key-or-end'
  | 'colon'
  | 'comma-or-end'
  | 'nothing';

const wantedWords: Readonly<Record<Wanted, string>> = {
  value: 'a JSON value',
  'value-or-end': 'a JSON value or ]',
  key: 'a key in double quotes',
  'key-or-end': 'a key in double quotes or }',
  colon: 'a colon',
  'comma-or-end': 'a comma or the closing bracket',
  nothing: 'nothing more',
};

function matchAt(pattern: RegExp, text: string, at: number): number {
  pattern.lastIndex = at;
  return pattern.test(text) ? pattern.lastIndex : -1;
}

/** What may follow once a value is complete, given the brackets that are still open. */
function afterValue(open: readonly string[]): Wanted {
  return open.length === 0 ? 'nothing' : 'comma-or-end';
}

interface Scan {
  readonly wanted: Wanted;
  readonly at: number;
}

/** One token further, or null when the text at `at` is not what was wanted. */
function advance(text: string, scan: Scan, open: string[]): Scan | null {
  const { wanted, at } = scan;
  const char = text[at];
  if (wanted === 'colon') return char === ':' ? { wanted: 'value', at: at + 1 } : null;
  if (wanted === 'nothing') return null;
  const closing = open.at(-1) === '{' ? '}' : ']';
  if (char === closing && wanted.endsWith('-or-end') && open.length > 0) {
    open.pop();
    return { wanted: afterValue(open), at: at + 1 };
  }
  if (wanted === 'comma-or-end') {
    if (char !== ',') return null;
    return { wanted: open.at(-1) === '{' ? 'key' : 'value', at: at + 1 };
  }
  if (wanted === 'key' || wanted === 'key-or-end') {
    const end = matchAt(STRING, text, at);
    return end < 0 ? null : { wanted: 'colon', at: end };
  }
  if (char === '{' || char === '[') {
    open.push(char);
    return { wanted: char === '{' ? 'key-or-end' : 'value-or-end', at: at + 1 };
  }
  const end = matchAt(char === '"' ? STRING : OTHER, text, at);
  return end < 0 ? null : { wanted: afterValue(open), at: end };
}

/** Where `text` stops being JSON, and what was wanted there. */
function firstMistake(text: string): Scan {
  const open: string[] = [];
  let scan: Scan = { wanted: 'value', at: 0 };
  for (;;) {
    const at = matchAt(SPACE, text, scan.at);
    const here: Scan = { wanted: scan.wanted, at: Math.max(at, scan.at) };
    if (here.at >= text.length) return { wanted: here.wanted, at: text.length };
    const next = advance(text, here, open);
    if (next === null) return here;
    scan = next;
  }
}

function placeWords(text: string, at: number): string {
  const before = text.slice(0, at);
  const line = before.split('\n').length;
  const column = at - before.lastIndexOf('\n');
  return `line ${line}, column ${column}`;
}

/**
 * Parses JSON text. `name` is how problems call the document.
 * Errors: `too-large` above {@link TEXT_LENGTH_MAX}, `not-json` with line and column.
 */
export function parseJsonText(text: string, name: string): Result<unknown, Problem> {
  if (text.length > TEXT_LENGTH_MAX) {
    return err({
      code: 'too-large',
      place: name,
      expected: 'a file of at most 2 MB',
      came: `${(text.length / 1_000_000).toFixed(1)} MB`,
    });
  }
  // Some editors put a byte order mark in front; it is not part of the document.
  const body = text.startsWith('\ufeff') ? text.slice(1) : text;
  try {
    return ok(JSON.parse(body));
  } catch {
    const { wanted, at } = firstMistake(body);
    const rest = body.slice(at, at + 20);
    return err({
      code: 'not-json',
      place: `${name}, ${placeWords(body, at)}`,
      expected: wantedWords[wanted],
      came: rest === '' ? 'the end of the file' : showCame(rest),
    });
  }
}
