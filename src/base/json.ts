/** Small things that everybody does with JSON. What comes from outside has readers of its own. */

import { NESTING_MAX } from './caps.ts';

/** The entries of a JSON object of unknown content. */
export type JsonFields = Readonly<Record<string, unknown>>;

/** Whether `value` is an object with keys: no list, not null. */
export function isRecord(value: unknown): value is JsonFields {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** The entries of an object, or none when it is something else. */
export function fieldsOf(value: unknown): JsonFields {
  return isRecord(value) ? value : {};
}

const QUOTE = 0x22;
const BACKSLASH = 0x5c;
const OPENING: ReadonlySet<number> = new Set([0x5b, 0x7b]);
const CLOSING: ReadonlySet<number> = new Set([0x5d, 0x7d]);

/** Whether JSON text has more than {@link NESTING_MAX} brackets inside each other. One walk, no stack. */
export function isTooDeep(text: string): boolean {
  let depth = 0;
  let isString = false;
  for (let at = 0; at < text.length; at += 1) {
    const code = text.charCodeAt(at);
    if (isString) {
      if (code === BACKSLASH) at += 1;
      else if (code === QUOTE) isString = false;
    } else if (code === QUOTE) isString = true;
    else if (OPENING.has(code)) {
      depth += 1;
      if (depth > NESTING_MAX) return true;
    } else if (CLOSING.has(code)) depth -= 1;
  }
  return false;
}

/**
 * The value of JSON text, or null when it is none or nested too deep: whatever walks such a value
 * later would run out of stack. A wrapper tells the value null from that.
 */
export function jsonOr(text: string): { readonly value: unknown } | null {
  if (isTooDeep(text)) return null;
  try {
    const value: unknown = JSON.parse(text);
    return { value };
  } catch {
    return null;
  }
}

/** JSON text of anything; what no JSON can carry is told in the engine's own words. */
export function jsonText(value: unknown): string {
  try {
    return JSON.stringify(value) ?? String(value);
  } catch {
    return String(value);
  }
}

/** Whether two values are written alike; the order of keys counts. */
export function isSameJson(a: unknown, b: unknown): boolean {
  return JSON.stringify(a) === JSON.stringify(b);
}
