/**
 * From what the schema library found to problems that name the place, what was expected and what
 * came. At most twenty, the most telling first: a wrong format explains everything else, an
 * unknown key is often only the misspelling of a missing one.
 */
import type { BaseIssue } from 'valibot';
import { keyWords, type Problem, placeOf, problem, showCame } from '../base/problem.ts';
import { isCalendarDate } from './calendar-date.ts';

const PROBLEMS_MAX = 20;

/** Says in words what kind of thing came; short things are shown as they are. */
export function cameWords(value: unknown): string {
  if (Array.isArray(value))
    return value.length === 0 ? 'an empty list' : `a list of ${value.length}`;
  if (typeof value === 'object' && value !== null) return 'an object';
  return showCame(value);
}

/** A list where an object belongs is told once, instead of through every key that it lacks. */
function listInsteadOfObject(issue: BaseIssue<unknown>, name: string): Problem | null {
  let place = name;
  for (const item of issue.path ?? []) {
    if (item.type === 'object' && Array.isArray(item.input)) {
      return { code: 'bad-value', place, expected: 'an object', came: cameWords(item.input) };
    }
    place += keyWords(item.key);
  }
  return null;
}

function toProblem(issue: BaseIssue<unknown>, name: string): Problem {
  const list = listInsteadOfObject(issue, name);
  if (list !== null) return list;
  const place = placeOf(
    name,
    (issue.path ?? []).map((item) => item.key),
  );
  const last = issue.path?.at(-1);
  if (issue.type === 'strict_object' && issue.expected === 'never') {
    return { code: 'unknown-key', place, expected: 'no such key', came: cameWords(last?.value) };
  }
  const isAbsent = last?.type === 'object' && !Object.hasOwn(Object(last.input), String(last.key));
  if (isAbsent) return { code: 'missing', place, expected: issue.message, came: 'nothing' };
  return { code: 'bad-value', place, expected: issue.message, came: cameWords(issue.input) };
}

function rank(problem: Problem, name: string): number {
  if (problem.place === name || problem.place === `${name}.format`) return 0;
  if (problem.place === `${name}.formatVersion`) return 1;
  return problem.code === 'unknown-key' ? 3 : 2;
}

/** Orders, drops repetitions and keeps the first {@link PROBLEMS_MAX}. Never empty for an input with entries. */
export function bestProblems(problems: readonly Problem[], name: string): readonly Problem[] {
  const seen = new Set<string>();
  const unique = problems.filter((p) => {
    const key = `${p.place}\n${p.expected}`;
    return seen.has(key) ? false : seen.add(key) !== undefined;
  });
  const sorted = unique.toSorted((a, b) => rank(a, name) - rank(b, name));
  const first = sorted[0];
  // A document of another format has nothing in common with this schema: one line is enough.
  if (first !== undefined && rank(first, name) <= 1) return [first];
  return sorted.slice(0, PROBLEMS_MAX);
}

/** Turns the issues of one document, called `name` in every place, into problems. */
export function issuesToProblems(
  issues: readonly BaseIssue<unknown>[],
  name: string,
): readonly Problem[] {
  return bestProblems(
    issues.map((issue) => toProblem(issue, name)),
    name,
  );
}

const DATE_KEYS: ReadonlySet<string> = new Set([
  'confirmedOn',
  'reviewDue',
  'readOn',
  'scheduledFor',
]);

/** Dates that have the right shape but are on no calendar, such as the 30th of February. */
export function impossibleDates(value: unknown, place: string): readonly Problem[] {
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, inner]): readonly Problem[] => {
    const here = place + keyWords(Array.isArray(value) ? Number(key) : key);
    if (typeof inner !== 'string') return impossibleDates(inner, here);
    if (!DATE_KEYS.has(key) || isCalendarDate(inner)) return [];
    return [problem(here, 'a day of the calendar', inner)];
  });
}

interface Pair {
  readonly input: unknown;
  readonly output: unknown;
}

const isInner = (value: unknown): value is object => typeof value === 'object' && value !== null;

/**
 * What the shape alone lets pass unseen: an empty list where an object without any required key belongs,
 * and a key such as "__proto__" that is dropped where any name may be a key. `output` is what was made of
 * `input`.
 */
export function unseenFaults({ input, output }: Pair, place: string): readonly Problem[] {
  if (!isInner(input) || !isInner(output)) return [];
  if (Array.isArray(input) !== Array.isArray(output)) {
    return [{ code: 'bad-value', place, expected: 'an object', came: cameWords(input) }];
  }
  const made = new Map(Object.entries(output));
  return Object.entries(input).flatMap(([key, came]): readonly Problem[] => {
    const here = place + keyWords(Array.isArray(input) ? Number(key) : key);
    if (made.has(key)) return unseenFaults({ input: came, output: made.get(key) }, here);
    return [{ code: 'unknown-key', place: here, expected: 'no such key', came: cameWords(came) }];
  });
}
