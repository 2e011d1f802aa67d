/**
 * Real files hurt in every way that comes to mind, the same for the same numbers: as text (cut,
 * doubled, swapped, with hostile pieces) and as JSON (a value, a key or a list replaced, taken out
 * or repeated).
 */

/** Numbers from 0 to 1, the same for the same seed. */
export type Next = () => number;

const below = (next: Next, count: number): number => Math.floor(next() * count);

export function oneOf<T>(next: Next, all: readonly T[]): T {
  const found = all[below(next, all.length)];
  if (found === undefined) throw new Error('nothing to choose from');
  return found;
}

const DEEP = 20_000;

const PIECES: readonly (() => string)[] = [
  () => '['.repeat(DEEP),
  () => `${'{"a":'.repeat(DEEP)}1`,
  () => `${'['.repeat(DEEP)}${']'.repeat(DEEP)}`,
  () => '\u0000',
  () => '\u202e',
  () => '\\ud800',
  () => '\ud800',
  () => '\ufeff',
  () => '\u2028',
  () => '"__proto__":{"x":1},',
  () => '"constructor":1,',
  () => '1e999',
  () => '-0',
  () => '9007199254740993',
  () => '1e-400',
  () => 'null',
  () => '{}',
  () => '[]',
  () => '""',
  () => '\\',
  () => '"',
  () => '\n',
  () => '\r\n',
  () => ',',
  () => '//',
  () => 'x'.repeat(50_000),
];

const span = (text: string, next: Next): readonly [number, number] => {
  const from = below(next, text.length + 1);
  return [from, Math.min(text.length, from + 1 + below(next, oneOf(next, [1, 8, 200, 20_000])))];
};

const TEXT_WAYS: readonly ((text: string, next: Next) => string)[] = [
  (text, next) => text.slice(0, below(next, text.length)),
  (text, next) => text.slice(below(next, text.length)),
  (text, next) => {
    const [from, to] = span(text, next);
    return text.slice(0, from) + text.slice(to);
  },
  (text, next) => {
    const [from, to] = span(text, next);
    return text.slice(0, to) + text.slice(from);
  },
  (text, next) => {
    const [from, to] = span(text, next);
    const where = below(next, text.length);
    return text.slice(0, where) + text.slice(from, to) + text.slice(where);
  },
  (text, next) => {
    const at = below(next, text.length);
    return text.slice(0, at) + oneOf(next, PIECES)() + text.slice(at);
  },
  (text, next) => {
    const at = below(next, text.length);
    return text.slice(0, at) + oneOf(next, PIECES)() + text.slice(at + 1);
  },
  (text, next) => {
    const at = below(next, text.length);
    const code = text.charCodeAt(at) ^ (1 << below(next, 8));
    return text.slice(0, at) + String.fromCharCode(code) + text.slice(at + 1);
  },
];

/** The text with one to three wounds. */
export function hurtText(text: string, next: Next): string {
  let hurt = text;
  for (let n = 1 + below(next, 3); n > 0; n -= 1) hurt = oneOf(next, TEXT_WAYS)(hurt, next);
  return hurt;
}

const nested = (depth: number): unknown => {
  let value: unknown = [];
  for (let n = 1; n < depth; n += 1) value = n % 2 === 0 ? [value] : { a: value };
  return value;
};

const VALUES: readonly (() => unknown)[] = [
  () => null,
  () => true,
  () => 0,
  () => -1,
  () => 0.5,
  () => 1e308,
  () => 2 ** 53,
  () => '',
  () => 'x',
  () => ' ',
  () => '__proto__',
  () => 'x'.repeat(5000),
  () => '\ud800',
  () => '=1+1',
  () => [],
  () => ({}),
  () => nested(90),
  () => Array.from({ length: 2000 }, () => null),
  () => Array.from({ length: 500 }, (_, n) => `x${n}`),
  () => Object.fromEntries(Array.from({ length: 500 }, (_, n) => [`k${n}`, n])),
];

type Holder = Record<string, unknown> | unknown[];
const isHolder = (value: unknown): value is Holder => typeof value === 'object' && value !== null;

/** Every place of a value, each as who holds it and under which key. */
function places(value: unknown): readonly { readonly holder: Holder; readonly key: string }[] {
  if (!isHolder(value)) return [];
  return Object.entries(value).flatMap(([key, inner]) => [
    { holder: value, key },
    ...places(inner),
  ]);
}

function set(holder: Holder, key: string, value: unknown): void {
  // Plain assignment to "__proto__" would set no key.
  Object.defineProperty(holder, key, {
    value,
    writable: true,
    enumerable: true,
    configurable: true,
  });
}

type Way = (at: { readonly holder: Holder; readonly key: string }, next: Next) => void;

const JSON_WAYS: readonly Way[] = [
  ({ holder, key }, next) => set(holder, key, oneOf(next, VALUES)()),
  ({ holder, key }) => {
    if (Array.isArray(holder)) holder.splice(Number(key), 1);
    else Reflect.deleteProperty(holder, key);
  },
  ({ holder, key }, next) => {
    if (!Array.isArray(holder)) set(holder, oneOf(next, ['__proto__', 'other', '']), holder[key]);
    else holder.push(...Array.from({ length: 1 + below(next, 60) }, () => holder[Number(key)]));
  },
  ({ holder, key }, next) => {
    const now: unknown = Reflect.get(holder, key);
    if (typeof now !== 'number') return;
    set(holder, key, oneOf(next, [now * 1000, -now, now + 0.5, now / 1000, 0, 1e15]));
  },
  ({ holder, key }, next) => {
    const other = oneOf(next, Object.keys(holder));
    const [a, b]: unknown[] = [Reflect.get(holder, key), Reflect.get(holder, other)];
    set(holder, key, b);
    set(holder, other, a);
  },
];

/** A copy of the value with one to four changes. */
export function hurtValue(value: unknown, next: Next): unknown {
  const copy: { whole: unknown } = { whole: structuredClone(value) };
  for (let n = 1 + below(next, 4); n > 0; n -= 1) {
    oneOf(next, JSON_WAYS)(oneOf(next, places(copy)), next);
    if (!Object.hasOwn(copy, 'whole')) copy.whole = null;
  }
  return copy.whole;
}
