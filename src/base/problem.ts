/**
 * What is wrong with something that came from outside: where it is, what was expected there and
 * what came instead. `code` is stable, so that screens can find their own words for it.
 */
import { jsonText } from './json.ts';
import { escapeLine } from './unseen.ts';

export interface Problem {
  readonly code: string;
  readonly place: string;
  readonly expected: string;
  readonly came: string;
}

const CAME_LENGTH_MAX = 60;

/** Shows any value from outside in at most sixty characters, on one line and as it is stored. */
export function showCame(value: unknown): string {
  if (value === undefined) return 'nothing';
  const text = escapeLine(jsonText(value));
  return text.length <= CAME_LENGTH_MAX ? text : `${text.slice(0, CAME_LENGTH_MAX - 1)}…`;
}

/** Builds a problem from the value that came. */
export function problem(
  place: string,
  expected: string,
  came: unknown,
  code = 'bad-value',
): Problem {
  return { code, place, expected, came: showCame(came) };
}

/** One line: `case.teeth[2].side: expected "left" or "right", got "middle"`. */
export function problemLine(p: Problem): string {
  return `${p.place}: expected ${p.expected}, got ${p.came}`;
}

const PLAIN_KEY = /^[A-Za-z_][A-Za-z0-9_]{0,59}$/;

/** `.steps`, `[3]` or `["x y"]`: one step further into a document. */
export function keyWords(key: unknown): string {
  if (typeof key === 'number') return `[${key}]`;
  const name = String(key);
  return PLAIN_KEY.test(name) ? `.${name}` : `[${showCame(name)}]`;
}

/** `protocol.steps[3]`: where something is inside the document called `name`. */
export function placeOf(name: string, path: readonly unknown[]): string {
  return name + path.map(keyWords).join('');
}
