/**
 * The opening of a case holds its protocol and its plan: it is nine tenths of what is hashed when a
 * case is read. Where the platform has SHA-256 of its own, that one entry is given to it; it takes a
 * tenth of the time, but answers later, so that it is asked before a chain is followed.
 */
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';
import { entryText, type KnownHashes } from './hash-chain.ts';
import { parseEntry } from './parse-stored.ts';

/** The hash that the opening among `stored` ought to carry; none where a page was not served securely. */
export async function nativeHashes([first]: readonly unknown[]): Promise<KnownHashes> {
  const subtle: SubtleCrypto | undefined = globalThis.crypto?.subtle;
  const entry = parseEntry(first);
  if (subtle === undefined || entry === null) return new Map();
  try {
    const sum = await subtle.digest('SHA-256', utf8ToBytes(entryText(entry)));
    return new Map([[first, bytesToHex(new Uint8Array(sum))]]);
  } catch {
    // What has no text is found by whoever follows the chain.
    return new Map();
  }
}
