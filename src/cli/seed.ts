/** A seed as it is typed: of a plan's days, and of a drill. */
import { type Problem, problem } from '../base/problem.ts';
import { err, ok, type Result } from '../base/result.ts';

const SEED_MAX = 2 ** 31 - 1;

/** @param option as it is named where it is wrong. */
export function parseSeed(option: string, text: string | undefined): Result<number, Problem> {
  const seed = text !== undefined && /^\d+$/.test(text) ? Number(text) : Number.NaN;
  return seed <= SEED_MAX
    ? ok(seed)
    : err(problem(option, `a whole number from 0 to ${SEED_MAX}`, text));
}
