/** The one text of a JSON value that hashes and comparisons are made of: RFC 8785. */
import canonicalize from 'canonicalize';
import { present } from '../base/assert.ts';
import { jsonText } from '../base/json.ts';

/**
 * RFC 8785 text of a JSON value.
 * @throws Error when the value holds something that JSON cannot carry (NaN, half a surrogate pair).
 */
export function canonicalText(value: unknown): string {
  return present(canonicalize(value), 'canonical JSON of a storable value');
}

/** The same for something damaged, which may hold what no JSON can carry. */
export function keptText(value: unknown): string {
  return isStorable(value) ? canonicalText(value) : jsonText(value);
}

/** Whether a value has a canonical text. */
export function isStorable(value: unknown): boolean {
  try {
    canonicalText(value);
    return true;
  } catch {
    return false;
  }
}
