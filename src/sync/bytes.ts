/** Small things that everything sealed does with bytes. */
import { bytesToHex, hexToBytes } from '@noble/hashes/utils.js';
import * as v from 'valibot';
import type { Bytes } from './store-types.ts';

const encoder = new TextEncoder();

export const utf8 = (text: string): Bytes => encoder.encode(text);

/** The text of UTF-8 bytes; null where they are none. */
export function textOf(bytes: Uint8Array): string | null {
  try {
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    return null;
  }
}

export const hex = (bytes: ArrayBuffer | Uint8Array): string =>
  bytesToHex(bytes instanceof Uint8Array ? bytes : new Uint8Array(bytes));

/** @throws Error where it is no hex: what comes from outside is checked before. */
export const fromHex = (text: string): Bytes => new Uint8Array(hexToBytes(text));

export function joined(...parts: readonly Uint8Array[]): Bytes {
  const all = new Uint8Array(parts.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const part of parts) {
    all.set(part, at);
    at += part.length;
  }
  return all;
}

export const random = (crypto: Crypto, length: number): Bytes =>
  crypto.getRandomValues(new Uint8Array(length));

/** Lower-case hex of so many bytes. */
export const hexSchema = (bytes: number) =>
  v.pipe(v.string(), v.regex(new RegExp(`^[0-9a-f]{${bytes * 2}}$`)));
