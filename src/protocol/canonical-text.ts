/** The one text of a JSON value that hashes and comparisons are made of: RFC 8785. */
import canonicalize from 'canonicalize';
import { present } from '../base/assert.ts';
import { NESTING_MAX } from '../base/caps.ts';
import { jsonText } from '../base/json.ts';

/** Deeper values are left to the library, which tells a circle from depth. */
const DEPTH_MAX = NESTING_MAX;

class Unusual extends Error {}

type Fields = Readonly<Record<string, unknown>>;

const isFields = (value: object): value is Fields =>
  Object.getPrototypeOf(value) === Object.prototype;

function isAscending(keys: readonly string[]): boolean {
  let before = '';
  for (const key of keys) {
    if (before >= key && before !== '') return false;
    before = key;
  }
  return true;
}

/** Objects of one kind have the same keys in the same order: they are put in order once. */
const ORDERS = new Map<string, readonly string[]>();
const ORDERS_MAX = 2000;

function inOrder(keys: readonly string[]): readonly string[] {
  const name = keys.join('\n');
  const known = ORDERS.get(name);
  if (known?.length === keys.length) return known;
  if (ORDERS.size >= ORDERS_MAX) ORDERS.clear();
  const sorted = keys.toSorted();
  // A key with a line feed in it would be taken for two.
  if (!keys.some((key) => key.includes('\n'))) ORDERS.set(name, sorted);
  return sorted;
}

/** The list itself when nothing in it had to be put in order. */
function orderedList(list: readonly unknown[], depth: number): readonly unknown[] {
  let copy: unknown[] | null = null;
  for (let at = 0; at < list.length; at += 1) {
    const inner = ordered(list[at], depth);
    if (copy === null && inner !== list[at]) copy = list.slice(0, at);
    if (copy !== null) copy.push(inner);
  }
  return copy ?? list;
}

/** The object itself when nothing in it had to be put in order. */
function orderedFields(fields: Fields, depth: number): Fields {
  const found = Object.keys(fields);
  const isInOrder = isAscending(found);
  const keys = isInOrder ? found : inOrder(found);
  const copy: Record<string, unknown> = {};
  let isSame = isInOrder;
  for (const key of keys) {
    // Neither is a key like any other to the engine.
    if (key === '__proto__' || key === 'toJSON') throw new Unusual();
    const value = fields[key];
    const inner = value === undefined ? value : ordered(value, depth);
    if (inner !== value) isSame = false;
    copy[key] = inner;
  }
  if (isSame) return fields;
  // The engine puts keys that are numbers first, whatever the order in which they were set.
  if (!isInOrder && !isAscending(Object.keys(copy))) throw new Unusual();
  return copy;
}

/**
 * The value with every key in the order of RFC 8785, so that the engine itself can write it.
 * @throws Unusual for whatever the engine would write otherwise than RFC 8785, or not at all.
 */
function ordered(value: unknown, depth: number): unknown {
  switch (typeof value) {
    case 'string':
    case 'boolean':
      return value;
    case 'number':
      if (Number.isFinite(value)) return value;
      break;
    case 'object':
      if (value === null) return value;
      if (depth > DEPTH_MAX) break;
      if (Array.isArray(value)) return orderedList(value, depth + 1);
      if (isFields(value)) return orderedFields(value, depth + 1);
  }
  throw new Unusual();
}

/** What the engine writes for half a surrogate pair, which has no canonical form. */
const HALF_PAIR = '\\ud';

/** RFC 8785 prescribes what the engine writes; only the order of keys is its own. Null: ask the library. */
function quickText(value: unknown): string | null {
  try {
    const text = JSON.stringify(ordered(value, 0));
    return text.includes(HALF_PAIR) ? null : text;
  } catch (thrown) {
    if (thrown instanceof Unusual) return null;
    throw thrown;
  }
}

/**
 * RFC 8785 text of a JSON value. Nearly all are written by the engine, which takes a fifth of the
 * time; the library judges the others.
 * @throws Error when the value holds something that JSON cannot carry (NaN, half a surrogate pair).
 */
export function canonicalText(value: unknown): string {
  return quickText(value) ?? present(canonicalize(value), 'canonical JSON of a storable value');
}

/** The same for something damaged, which may hold what no JSON can carry. */
export function keptText(value: unknown): string {
  return storableText(value) ?? jsonText(value);
}

/** The canonical text of a value; null where it has none. */
export function storableText(value: unknown): string | null {
  try {
    return canonicalText(value);
  } catch {
    return null;
  }
}

/** Whether a value has a canonical text. */
export const isStorable = (value: unknown): boolean => storableText(value) !== null;
