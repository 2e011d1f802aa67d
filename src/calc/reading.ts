/**
 * Readers: each turns a value from outside into a typed one, or into one problem that names the
 * place, what was expected there and what came. They stop at the first fault.
 */
import { type Problem, problem } from '../base/problem.ts';
import { err, ok, type Result } from '../base/result.ts';

export type Read<T> = (place: string, came: unknown) => Result<T, Problem>;

/** The type that a reader gives. */
export type Given<R> = R extends Read<infer T> ? T : never;

export interface NumberRange {
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

/** Shows numbers that JSON cannot hold by their names instead of as null. */
function shown(came: unknown): unknown {
  return typeof came === 'number' && !Number.isFinite(came) ? String(came) : came;
}

/** Reads a finite number within a range; text that looks like a number is refused. */
export function readNumber(range: NumberRange): Read<number> {
  return (place, came) =>
    typeof came === 'number' && inRange(came, range)
      ? ok(came)
      : err(problem(place, expectedWords(range, came), shown(came)));
}

/** Reads text of at most `lengthMax` characters; empty text is refused. */
export function readText(lengthMax: number): Read<string> {
  const expected = `text of 1 to ${lengthMax} characters`;
  return (place, came) =>
    typeof came === 'string' && came.length > 0 && came.length <= lengthMax
      ? ok(came)
      : err(problem(place, expected, came));
}

/** Reads true or false. */
export const readBoolean: Read<boolean> = (place, came) =>
  typeof came === 'boolean' ? ok(came) : err(problem(place, 'true or false', shown(came)));

/** Reads one of a few words. */
export function readChoice<const Word extends string>(words: readonly Word[]): Read<Word> {
  const expected = `one of ${words.map((word) => `"${word}"`).join(', ')}`;
  return (place, came) => {
    const found = words.find((word) => word === came);
    return found === undefined ? err(problem(place, expected, shown(came))) : ok(found);
  };
}

/** Reads a list; every member goes through `read`. */
export function readList<T>(
  read: Read<T>,
  length: { readonly min: number; readonly max: number },
): Read<readonly T[]> {
  const expected = `a list of ${length.min} to ${length.max} entries`;
  return (place, came) => {
    if (!Array.isArray(came)) return err(problem(place, expected, shown(came)));
    if (came.length < length.min || came.length > length.max) {
      return err({ code: 'bad-length', place, expected, came: `${came.length} entries` });
    }
    const list: T[] = [];
    for (const [at, member] of came.entries()) {
      const each = read(`${place}[${at}]`, member);
      if (!each.ok) return each;
      list.push(each.value);
    }
    return ok(list);
  };
}

/** Reads with `read`, but gives `fallback` when nothing came. */
export function readOr<T>(read: Read<T>, fallback: T): Read<T> {
  return (place, came) => (came === undefined ? ok(fallback) : read(place, came));
}

/** Reads with `read`, but gives null when nothing came. */
export function readOptional<T>(read: Read<T>): Read<T | null> {
  return readOr<T | null>(read, null);
}

type Fields = Readonly<Record<string, Read<unknown>>>;
type Shape<F extends Fields> = { readonly [K in keyof F]: Given<F[K]> };

function isRecord(came: unknown): came is Readonly<Record<string, unknown>> {
  return typeof came === 'object' && came !== null && !Array.isArray(came);
}

/** Reads an object with exactly the given keys. Keys that are not known are refused by name. */
export function readObject<F extends Fields>(fields: F): Read<Shape<NoInfer<F>>> {
  const keys = Object.keys(fields);
  const expected = `an object with the keys ${keys.join(', ')}`;
  return (place, came) => {
    if (!isRecord(came)) return err(problem(place, expected, shown(came)));
    const stray = Object.keys(came).find((key) => !keys.includes(key));
    if (stray !== undefined) {
      const words = `no such key (known: ${keys.join(', ')})`;
      return err(problem(`${place}.${stray}`, words, came[stray], 'unknown-key'));
    }
    const entries: [string, unknown][] = [];
    for (const [key, read] of Object.entries(fields)) {
      const each = read(`${place}.${key}`, Object.hasOwn(came, key) ? came[key] : undefined);
      if (!each.ok) return each;
      entries.push([key, each.value]);
    }
    return ok(Object.fromEntries(entries) as Shape<F>);
  };
}
