/**
 * Schemas of what figures are computed from: each says what it must be in words that can stand after
 * "expected". Reading stops at the first fault and names the place, what was expected there and what
 * came.
 */
import * as v from 'valibot';
import { fieldsOf, isRecord } from '../base/json.ts';
import { type Problem, placeOf, problem } from '../base/problem.ts';
import { err, ok, type Result } from '../base/result.ts';

/** What a reader accepts: anything, of which it makes a `T`. */
export type Read<T> = v.GenericSchema<unknown, T>;

interface NumberRange {
  /** Lowest value allowed. */
  readonly min?: number;
  /** The value must be greater than this one. */
  readonly above?: number;
  /** Highest value allowed. */
  readonly max?: number;
  /** Values above this one are taken for slips; named only when one came. */
  readonly sane?: number;
  readonly whole?: boolean;
}

function rangeWords(range: NumberRange): string {
  const kind = range.whole === true ? 'a whole number' : 'a number';
  const { min, above, max } = range;
  if (min !== undefined && max !== undefined) return `${kind} from ${min} to ${max}`;
  if (min !== undefined) return `${kind} of ${min} or more`;
  if (above !== undefined && max !== undefined) return `${kind} above ${above}, at most ${max}`;
  if (above !== undefined) return `${kind} above ${above}`;
  return max === undefined ? kind : `${kind} of at most ${max}`;
}

function expectedWords(range: NumberRange, came: unknown): string {
  const isSlip = typeof came === 'number' && range.sane !== undefined && came > range.sane;
  return isSlip ? `a number of at most ${range.sane}` : rangeWords(range);
}

function inRange(value: number, { min, above, max, sane, whole }: NumberRange): boolean {
  return (
    Number.isFinite(value) &&
    (min === undefined || value >= min) &&
    (above === undefined || value > above) &&
    (max === undefined || value <= max) &&
    (sane === undefined || value <= sane) &&
    (whole !== true || Number.isInteger(value))
  );
}

/** A finite number within a range; text that looks like a number is refused. */
export function readNumber(range: NumberRange) {
  const words = (issue: { readonly input: unknown }): string => expectedWords(range, issue.input);
  return v.pipe(
    v.number(words),
    v.check((value) => inRange(value, range), words),
  );
}

/** Text of at most `lengthMax` characters; empty text is refused. */
export function readText(lengthMax: number) {
  const expected = `text of 1 to ${lengthMax} characters`;
  return v.pipe(v.string(expected), v.minLength(1, expected), v.maxLength(lengthMax, expected));
}

/** One of a few words. */
export function readChoice<const Word extends string>(words: readonly Word[]) {
  return v.picklist(words, `one of ${words.map((word) => `"${word}"`).join(', ')}`);
}

/** A list; its length is looked at before its members. */
export function readList<const Member extends v.GenericSchema>(
  member: Member,
  length: { readonly min: number; readonly max: number },
) {
  const expected = `a list of ${length.min} to ${length.max} entries`;
  return v.pipe(
    v.array(v.unknown(), expected),
    v.minLength(length.min, expected),
    v.maxLength(length.max, expected),
    v.array(member),
  );
}

const NOTHING = Symbol('nothing came');

/** The same, but `fallback` when nothing came. */
export function readOr<const Inner extends v.GenericSchema, const Fallback>(
  inner: Inner,
  fallback: Fallback,
) {
  const instead = v.pipe(
    v.literal(NOTHING),
    v.transform(() => fallback),
  );
  return v.optional(
    v.lazy((came) => (came === NOTHING ? instead : inner)),
    NOTHING,
  );
}

/** The same, but null when nothing came. */
export function readOptional<const Inner extends v.GenericSchema>(inner: Inner) {
  return readOr(inner, null);
}

/** What a field asks for, told where the field is missing. */
function askedFor(field: v.GenericSchema | undefined, otherwise: string): string {
  return field === undefined
    ? otherwise
    : (v.safeParse(field, undefined).issues?.[0].message ?? otherwise);
}

/** An object with exactly the given keys. Keys that are not known are refused by name, first. */
export function readObject<const Fields extends Readonly<Record<string, v.GenericSchema>>>(
  fields: Fields,
) {
  const keys = Object.keys(fields);
  const expected = `an object with the keys ${keys.join(', ')}`;
  return v.pipe(
    v.custom<object>(isRecord, expected),
    v.rawCheck(({ dataset, addIssue }) => {
      const input = { ...fieldsOf(dataset.value) };
      const [stray] = Object.entries(input).filter(([key]) => !keys.includes(key));
      if (stray === undefined) return;
      const [key, value] = stray;
      const path = [{ type: 'object', origin: 'key', input, key, value }] as const;
      addIssue({
        message: `no such key (known: ${keys.join(', ')})`,
        input: value,
        path: [...path],
      });
    }),
    v.object(fields, (issue) => {
      const key = issue.path?.at(-1)?.key;
      return askedFor(typeof key === 'string' ? fields[key] : undefined, expected);
    }),
  );
}

/** Shows numbers that JSON cannot hold by their names instead of as null. */
function shown(came: unknown): unknown {
  return typeof came === 'number' && !Number.isFinite(came) ? String(came) : came;
}

function toProblem(place: string, issue: v.BaseIssue<unknown>): Problem {
  const path = issue.path ?? [];
  const at = placeOf(
    place,
    path.map((item) => item.key),
  );
  if (Array.isArray(issue.input) && /_length$/.test(issue.type)) {
    const came = `${issue.input.length} entries`;
    return { code: 'bad-length', place: at, expected: issue.message, came };
  }
  const isStray = path.at(-1)?.origin === 'key';
  const code = isStray ? 'unknown-key' : 'bad-value';
  return problem(at, issue.message, shown(issue.input), code);
}

/** The value that came to `place`, as `read` makes it, or the first problem of it. */
export function readAt<T>(read: Read<T>, place: string, came: unknown): Result<T, Problem> {
  const parsed = v.safeParse(read, came, { abortEarly: true, abortPipeEarly: true });
  return parsed.success ? ok(parsed.output) : err(toProblem(place, parsed.issues[0]));
}
