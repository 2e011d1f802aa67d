/**
 * A protocol in another language, for people to read. Neither the document nor its hash nor its
 * confirmation is touched: what comes out is shown and never stored, hashed or compared.
 */
import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';
import { deepFreeze } from '../base/freeze.ts';
import type { Translation } from './parse-translation.ts';
import { toldTexts, withTexts } from './told-texts.ts';
import type { Protocol } from './types.ts';

/** What a text is known by in a translation: lower-case hex SHA-256 of its UTF-8 bytes. */
export function textHash(text: string): string {
  return bytesToHex(sha256(utf8ToBytes(text)));
}

/** The places in a text where the app puts something, such as `{subject}`, in a fixed order. */
const placesIn = (text: string): string => [...text.matchAll(/\{\w+\}/g)].sort().join(' ');

export interface Translated {
  /** With the translated texts in place of its own. */
  readonly protocol: Protocol;
  /** How many different texts have no translation and stand in the protocol's own language. */
  readonly missing: number;
}

/**
 * The protocol as `translation` says it. A text is translated only while it is, letter by letter,
 * the one that was translated, and only by words that name the same teeth and units: a press that
 * does not say which tooth it is for would be worse than one in another language.
 */
export function translate(protocol: Protocol, translation: Translation): Translated {
  const known = new Map(
    toldTexts(protocol).flatMap((text): [string, string][] => {
      const said = translation.texts[textHash(text)];
      return said !== undefined && placesIn(said) === placesIn(text) ? [[text, said]] : [];
    }),
  );
  const missing = toldTexts(protocol).length - known.size;
  if (known.size === 0) return { protocol, missing };
  return { protocol: deepFreeze(withTexts(protocol, (text) => known.get(text) ?? text)), missing };
}
