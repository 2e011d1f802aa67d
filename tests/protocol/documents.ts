import { readFileSync } from 'node:fs';
import fc from 'fast-check';

/** Shipped documents as plain JSON, and random changes to them. For tests only. */

const fromRoot = (path: string): string =>
  readFileSync(new URL(`../../${path}`, import.meta.url), 'utf8');

export const templateText = (): string =>
  fromRoot('shared/protocols/thin-veneers-separate-bottle-etch-and-rinse.json');
export const caseText = (name: string): string => fromRoot(`demo-data/cases/${name}.json`);
export const sharedText = (file: string): string => fromRoot(`shared/${file}`);

export type Json = null | boolean | number | string | Json[] | { [key: string]: Json };

/** Parses text that the test knows to be JSON. */
export const json = (text: string): Json => JSON.parse(text) as Json;

type Path = readonly (string | number)[];

function pathsOf(value: Json, path: Path = []): Path[] {
  if (typeof value !== 'object' || value === null) return [path];
  const entries: [string | number, Json][] = Array.isArray(value)
    ? value.map((item, i) => [i, item])
    : Object.entries(value);
  return [path, ...entries.flatMap(([key, inner]) => pathsOf(inner, [...path, key]))];
}

/** The value at `path`, null when there is none. */
export function at(value: Json, path: Path): Json {
  return path.reduce<Json>((inner, key) => {
    if (typeof inner !== 'object' || inner === null) return null;
    return (Array.isArray(inner) ? inner[Number(key)] : inner[key]) ?? null;
  }, value);
}

/** A copy with the value at `path` replaced. */
export function put(value: Json, path: Path, by: Json): Json {
  const [key, ...rest] = path;
  if (key === undefined) return by;
  if (Array.isArray(value)) {
    return value.map((item, i) => (i === key ? put(item, rest, by) : item));
  }
  if (typeof value !== 'object' || value === null) return value;
  const inner = value[String(key)] ?? null;
  return { ...value, [key]: rest.length === 0 ? by : put(inner, rest, by) };
}

/** A copy without the value at `path`. */
export function drop(value: Json, path: Path): Json {
  const parent = at(value, path.slice(0, -1));
  const key = path.at(-1);
  if (typeof parent !== 'object' || parent === null) return value;
  const left = Array.isArray(parent)
    ? parent.filter((_, i) => i !== key)
    : Object.fromEntries(Object.entries(parent).filter(([name]) => name !== key));
  return put(value, path.slice(0, -1), left);
}

const junk: fc.Arbitrary<Json> = fc.oneof(
  fc.constantFrom<Json>(null, true, false, '', [], {}, 0, -1, 1, 1.5, 20000, 1e12, '20s', 'etch'),
  fc.constantFrom<Json>('all', 'same', 'start', 'unit', '11', '19', '2026-11-25', 'a b', 'A'),
  fc.constantFrom<Json>(
    { kind: 'practice' },
    { kind: 'published', source: 'lane-1998' },
    { kind: 'confirm' },
    { value: 5000, basis: { kind: 'practice' } },
    {
      kind: 'instructions',
      document: 'IFU',
      revision: '3',
      confirmedBy: 'C',
      confirmedOn: '2026-11-02',
    },
  ),
  fc.string({ maxLength: 12, unit: 'grapheme-ascii' }),
  fc.integer({ min: -5, max: 200_000 }),
  fc.jsonValue({ maxDepth: 2, noUnicodeString: true }).map((value) => value as Json),
);

type Change = (value: Json) => Json;

function grow(value: Json, path: Path, key: string, by: Json): Json {
  const inner = at(value, path);
  if (typeof inner !== 'object' || inner === null || Array.isArray(inner)) return value;
  // Entries, because assigning to `__proto__` would not make a key.
  return put(value, path, Object.fromEntries([...Object.entries(inner), [key, by]]));
}

function double(value: Json, path: Path): Json {
  const inner = at(value, path);
  return Array.isArray(inner) ? put(value, path, [...inner, ...inner]) : value;
}

/** One random change: a value dropped, replaced, swapped or doubled, or a key that nobody knows. */
function changesOf(document: Json): fc.Arbitrary<Change> {
  const somewhere = fc.constantFrom(...pathsOf(document).filter((path) => path.length > 0));
  return fc.oneof(
    somewhere.map(
      (path): Change =>
        (value) =>
          drop(value, path),
    ),
    fc.tuple(somewhere, junk).map(
      ([path, by]): Change =>
        (value) =>
          put(value, path, by),
    ),
    fc.tuple(somewhere, somewhere).map(
      ([path, other]): Change =>
        (value) =>
          put(value, path, at(value, other)),
    ),
    fc.tuple(somewhere, fc.constantFrom('extra', '__proto__', 'toString', 'a b'), junk).map(
      ([path, key, by]): Change =>
        (value) =>
          grow(value, path, key, by),
    ),
    somewhere.map(
      (path): Change =>
        (value) =>
          double(value, path),
    ),
  );
}

/** The document with one or two random changes. */
export function mutationsOf(document: Json): fc.Arbitrary<Json> {
  return fc
    .array(changesOf(document), { minLength: 1, maxLength: 2 })
    .map((changes) => changes.reduce((value, change) => change(value), document));
}
