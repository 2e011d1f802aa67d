/**
 * The one way in for data from outside, be it a file, the store, another window or a worker: it
 * enters as unknown, a schema says what it must be, and it leaves typed or as problems.
 */
import * as v from 'valibot';
import { type Problem, problem } from '../base/problem.ts';
import { err, ok, type Result } from '../base/result.ts';
import { issuesToProblems } from './document-problems.ts';

/** The value in the shape of `schema`, or what is wrong with it; `name` is how problems call it. */
export function readOutside<const Schema extends v.GenericSchema>(
  schema: Schema,
  value: unknown,
  name: string,
): Result<v.InferOutput<Schema>, readonly [Problem, ...Problem[]]> {
  const parsed = v.safeParse(schema, value, { abortPipeEarly: true });
  if (parsed.success) return ok(parsed.output);
  const [first = problem(name, 'another value', value), ...rest] = issuesToProblems(
    parsed.issues,
    name,
  );
  return err([first, ...rest]);
}

/** The same where nobody is told what is wrong, because what is damaged is left as it is. */
export function parsedOr<const Schema extends v.GenericSchema>(
  schema: Schema,
  value: unknown,
): v.InferOutput<Schema> | null {
  const parsed = v.safeParse(schema, value, { abortEarly: true });
  return parsed.success ? parsed.output : null;
}
