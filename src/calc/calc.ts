/**
 * What every figure that can be computed from a terminal or opened on a screen has in common: a
 * name, a reader for its input, and an answer that carries its source.
 */
import { type Problem, problem } from '../base/problem.ts';
import { err, ok, type Result } from '../base/result.ts';
import { type Read, readAt } from './reading.ts';
import type { CalcTables } from './tables.ts';

/** An answer as plain JSON data; `source` says where formula and constants come from. */
type CalcAnswer = Readonly<Record<string, unknown>> & { readonly source: string };

export interface Calc {
  readonly name: string;
  /** One line for people: what goes in and what comes out. */
  readonly about: string;
  /** Reads unknown input and computes; the problem's place starts with `calc.<name>`. */
  readonly compute: (input: unknown, tables: CalcTables) => Result<CalcAnswer, Problem>;
}

function allFinite(value: unknown): boolean {
  if (typeof value === 'number') return Number.isFinite(value);
  if (typeof value !== 'object' || value === null) return true;
  return Object.values(value).every(allFinite);
}

/**
 * Joins a reader and a computation into a {@link Calc}. An answer that is too large or too small
 * for a number is a problem, never a silent null.
 */
export function defineCalc<T>(
  head: { readonly name: string; readonly about: string; readonly source: string },
  read: Read<T>,
  compute: (input: T, tables: CalcTables) => Result<object, Problem>,
): Calc {
  const place = `calc.${head.name}`;
  return {
    name: head.name,
    about: head.about,
    compute: (came, tables) => {
      const input = readAt(read, place, came);
      if (!input.ok) return input;
      const answer = compute(input.value, tables);
      if (!answer.ok) return answer;
      if (!allFinite(answer.value)) {
        return err(problem(place, 'input that gives a finite answer', came, 'not-finite'));
      }
      return ok({ ...answer.value, source: head.source });
    },
  };
}
