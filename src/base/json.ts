/** Small things that everybody does with JSON. What comes from outside has readers of its own. */

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

/** The value of JSON text, or null when it is none. A wrapper tells the value null from that. */
export function jsonOr(text: string): { readonly value: unknown } | null {
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
