/**
 * Text from outside to JSON, with the place of whatever is wrong as path, line and column. A kept
 * reader walks the text and tells where each key and value stands; the engine makes the values.
 * Beyond what is no JSON at all, three things are refused that the engine lets pass: a key that is
 * said twice (it would silently take the last), characters that nobody sees, and nesting so deep
 * that whatever looks at the value later would run out of stack.
 */
import { type JSONVisitor, visit } from 'jsonc-parser';
import { NESTING_MAX, TEXT_LENGTH_MAX } from '../base/caps.ts';
import { jsonOr } from '../base/json.ts';
import { type Problem, placeOf, problem, showCame } from '../base/problem.ts';
import { err, ok, type Result } from '../base/result.ts';
import { escapeOf, unseenIn } from '../base/unseen.ts';

/** Characters that are told of one document; more would be no help. */
const TOLD_MAX = 20;

type Path = readonly (string | number)[];

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

/** What is wrong with a text, and the path of the object or value that holds it. */
export interface JsonFault {
  readonly problem: Problem;
  readonly path: Path;
}

/** The reader has no other way to stop early than to be thrown out of. */
class Stop extends Error {
  readonly fault: JsonFault;

  constructor(fault: JsonFault) {
    super(fault.problem.code);
    this.fault = fault;
  }
}

const LINE_END = /\r\n?|\n/g;

/** Only asked for once something is wrong: the way there is then walked once more. */
function spotWords(text: string, offset: number): string {
  const before = text.slice(0, offset);
  const ends = [...before.matchAll(LINE_END)];
  const last = ends.at(-1);
  const lineStart = last === undefined ? 0 : last.index + last[0].length;
  return `line ${ends.length + 1}, column ${offset - lineStart + 1}`;
}

/** Whether any string of the text can hold what nobody sees: as it is, or as an escape. */
const mayBeUnseen = (text: string): boolean =>
  /\\[bfru]/.test(text) || unseenIn(text.replaceAll('\r', '')) !== null;

/** One character of a string as it is written: an escape or the character itself. */
const PIECE = /\\(?:u.{4}|.)|[^\\]/gs;

/** How far into the written string its first unseen character stands. */
function unseenOffset(written: string): number {
  for (const { 0: piece, index } of written.matchAll(PIECE)) {
    const character = piece.startsWith('\\') ? jsonOr(`"${piece}"`)?.value : piece;
    if (typeof character === 'string' && unseenIn(character) !== null) return index;
  }
  return 0;
}

/** Follows the reader through one document and finds its first fault. */
class Walk {
  readonly #text: string;
  readonly #name: string;
  /** Null: refused, like every other fault. */
  readonly #told: JsonFault[] | null;
  readonly #looks: boolean;
  /** For each bracket that is open, where its keys stand; null for a list. */
  readonly #open: (Map<string, number> | null)[] = [];
  #wanted: Wanted = 'value';

  constructor(text: string, o: { readonly name: string; readonly told: JsonFault[] | null }) {
    this.#text = text;
    this.#name = o.name;
    this.#told = o.told;
    this.#looks = mayBeUnseen(text);
  }

  readonly visitor: JSONVisitor = {
    onObjectBegin: (offset) => this.#begin(new Map(), offset),
    onArrayBegin: (offset) => this.#begin(null, offset),
    onObjectProperty: (key, offset, length, _line, _character, path) => {
      this.#look(key, { offset, length }, path);
      this.#key(key, offset, path);
      this.#wanted = 'colon';
    },
    onLiteralValue: (value, offset, length, _line, _character, path) => {
      if (typeof value === 'string') this.#look(value, { offset, length }, path);
      this.#complete();
    },
    onSeparator: (mark) => {
      this.#wanted = mark === ',' && this.#open.at(-1) ? 'key' : 'value';
    },
    onObjectEnd: (_offset, length) => this.#end(length),
    onArrayEnd: (_offset, length) => this.#end(length),
    onError: (_code, offset) => {
      const rest = this.#text.slice(offset, offset + 20);
      const came = rest === '' ? 'the end of the file' : showCame(rest);
      throw this.#stop(offset, { code: 'not-json', expected: wantedWords[this.#wanted], came });
    },
  };

  #begin(keys: Map<string, number> | null, offset: number): void {
    this.#open.push(keys);
    this.#wanted = keys ? 'key-or-end' : 'value-or-end';
    if (this.#open.length <= NESTING_MAX) return;
    const expected = `at most ${NESTING_MAX} brackets inside each other`;
    throw this.#stop(offset, { code: 'too-deep', expected, came: 'more' });
  }

  /** At the end of the text the reader closes what is open: nothing stands there to be closed. */
  #end(length: number): void {
    if (length === 0) return;
    this.#open.pop();
    this.#complete();
  }

  #complete(): void {
    this.#wanted = this.#open.length === 0 ? 'nothing' : 'comma-or-end';
  }

  #key(key: string, offset: number, path: () => Path): void {
    const keys = this.#open.at(-1);
    const first = keys?.get(key);
    keys?.set(key, offset);
    if (first === undefined) return;
    const came = `${showCame(key)} again (first on ${spotWords(this.#text, first)})`;
    throw this.#stop(offset, { code: 'duplicate-key', expected: 'each key once', came }, path());
  }

  #look(
    value: string,
    token: { readonly offset: number; readonly length: number },
    path: () => Path,
  ): void {
    const character = this.#looks ? unseenIn(value) : null;
    if (character === null) return;
    const { offset, length } = token;
    const into = unseenOffset(this.#text.slice(offset, offset + length));
    const expected = 'text without control or direction characters';
    const words = { code: 'unseen-character', expected, came: escapeOf(character) };
    if (this.#told === null) throw this.#stop(offset + into, words, path());
    if (this.#told.length < TOLD_MAX) {
      this.#told.push(this.#stop(offset + into, words, path()).fault);
    }
  }

  #stop(offset: number, words: Omit<Problem, 'place'>, path: Path = []): Stop {
    const place = `${placeOf(this.#name, path)}, ${spotWords(this.#text, offset)}`;
    return new Stop({ problem: { ...words, place }, path });
  }
}

interface JsonReading {
  readonly value: unknown;
  /** Characters that nobody sees, where the caller keeps them; at most twenty. */
  readonly told: readonly JsonFault[];
}

/**
 * Reads JSON text. `name` is how problems call the document. What is stored already is kept as it
 * is: with `keepsUnseen`, characters that nobody sees are told instead of refused.
 * Errors: `too-large`, `too-deep`, `not-json`, `duplicate-key`, `unseen-character`.
 */
export function readJsonText(
  text: string,
  o: { readonly name: string; readonly lengthMax: number; readonly keepsUnseen: boolean },
): Result<JsonReading, JsonFault> {
  if (text.length > o.lengthMax) {
    const expected = `a file of at most ${o.lengthMax / 1_000_000} MB`;
    const came = `${(text.length / 1_000_000).toFixed(1)} MB`;
    return err({ problem: { code: 'too-large', place: o.name, expected, came }, path: [] });
  }
  // Some editors put a byte order mark in front; it is not part of the document.
  const body = text.startsWith('\ufeff') ? text.slice(1) : text;
  const told: JsonFault[] = [];
  try {
    const walk = new Walk(body, { name: o.name, told: o.keepsUnseen ? told : null });
    visit(body, walk.visitor, { disallowComments: true });
  } catch (thrown) {
    if (thrown instanceof Stop) return err(thrown.fault);
    throw thrown;
  }
  const json = jsonOr(body);
  return json === null
    ? err({ problem: problem(o.name, 'a JSON document', body, 'not-json'), path: [] })
    : ok({ value: json.value, told });
}

/**
 * Parses a document from outside: a protocol, a case, a script, a file of another clinic.
 * Errors: those of {@link readJsonText}, each one with its place.
 */
export function parseJsonText(text: string, name: string): Result<unknown, Problem> {
  const read = readJsonText(text, { name, lengthMax: TEXT_LENGTH_MAX, keepsUnseen: false });
  return read.ok ? ok(read.value.value) : err(read.error.problem);
}
