/**
 * The code of a pairing: 80 random bits, typed on the new tablet in four groups of four. It counts for ten
 * minutes and once. Its id, under which the two ends meet, and the key that seals what they say follow from it.
 */
import { sha256 } from '@noble/hashes/sha2.js';
import { hex, joined, random, utf8 } from './bytes.ts';
import { fromCrockford, inGroups, toCrockford, typedDigits } from './crockford.ts';
import type { Bytes, LiveLine } from './store-types.ts';
import { pairSubject } from './subjects.ts';

const CODE_BYTES = 10;
const CODE_LENGTH = 16;
const ID_BITS = 64;
const DIGITS = 6;

export type PairSide = 'new' | 'lead';

export interface PairCode {
  /** Four groups of four. */
  readonly text: string;
  /** 16 hex characters: both ends meet under it, and it tells nothing of the code. */
  readonly id: string;
  /** AES-256-GCM. */
  readonly key: CryptoKey;
  readonly bytes: Bytes;
}

const hkdf = (purpose: string) => ({
  name: 'HKDF',
  hash: 'SHA-256',
  salt: new Uint8Array(),
  info: utf8(`lutewatch pairing 1 ${purpose}`),
});

async function codeOf({ subtle }: Crypto, bytes: Bytes): Promise<PairCode> {
  const from = await subtle.importKey('raw', bytes, 'HKDF', false, ['deriveBits', 'deriveKey']);
  const aes = { name: 'AES-GCM', length: 256 };
  const key = await subtle.deriveKey(hkdf('key'), from, aes, false, ['encrypt', 'decrypt']);
  const id = hex(await subtle.deriveBits(hkdf('id'), from, ID_BITS));
  return { text: inGroups(toCrockford(bytes)), id, key, bytes };
}

/** A new code. */
export const newPairCode = (crypto: Crypto): Promise<PairCode> =>
  codeOf(crypto, random(crypto, CODE_BYTES));

/** The code that somebody typed; null where it cannot be one. */
export async function typedPairCode(crypto: Crypto, text: string): Promise<PairCode | null> {
  const digits = typedDigits(text);
  return digits?.length === CODE_LENGTH ? codeOf(crypto, fromCrockford(digits)) : null;
}

/** Six digits that both screens show: of the code and of all that the two ends agreed on. */
export function sixDigits(code: PairCode, transcript: string): string {
  const view = new DataView(sha256(joined(code.bytes, utf8(transcript))).buffer);
  return String(view.getBigUint64(0) % 10n ** BigInt(DIGITS)).padStart(DIGITS, '0');
}

/** One end's way to the other. What is sent may be lost or come twice. */
export interface PairLine {
  send(data: Bytes): void;
  /** Returns the way to stop. */
  onMessage(listener: (data: Bytes) => void): () => void;
}

/** The line of one end: it sends under its own name and hears the other's. */
export function pairLine(
  live: LiveLine,
  o: { readonly id: string; readonly side: PairSide },
): PairLine {
  const other = o.side === 'new' ? 'lead' : 'new';
  return {
    send: (data) => live.publish(pairSubject(o.id, o.side), data),
    onMessage: (listener) => live.subscribe(pairSubject(o.id, other), (_, data) => listener(data)),
  };
}
