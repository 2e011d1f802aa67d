/**
 * What is wrong with something that came from outside: where it is, what was expected there and
 * what came instead. `code` is stable, so that screens can find their own words for it.
 */
export interface Problem {
  readonly code: string;
  readonly place: string;
  readonly expected: string;
  readonly came: string;
}

const CAME_LENGTH_MAX = 60;

/** Shows any value from outside in at most sixty characters, without line breaks. */
export function showCame(value: unknown): string {
  if (value === undefined) return 'nothing';
  let text: string;
  try {
    text = JSON.stringify(value) ?? String(value);
  } catch {
    text = String(value);
  }
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

/** One line: `protocol.steps[3].action.targetMs: expected a whole number above 0, got "20s"`. */
export function problemLine(p: Problem): string {
  return `${p.place}: expected ${p.expected}, got ${p.came}`;
}
