/**
 * Seeds of the server's keys, as nkeys write them: two prefixes in 10 bits, 32 bytes, CRC-16/XMODEM (low byte
 * first), all of it in base 32 (RFC 4648) without padding. The raw 32 bytes are shorter to print.
 */
import { assert } from '../base/assert.ts';
import type { Bytes } from './store-types.ts';

const DIGITS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ234567';
const SEED = 18 << 3;
const KINDS = { operator: 14 << 3, account: 0 } as const;
export type SeedKind = keyof typeof KINDS;

const RAW_BYTES = 32;
const START_BYTES = 2;
const ALL_BYTES = START_BYTES + RAW_BYTES + 2;
const SEED_LENGTH = 58;

function crc16(bytes: Uint8Array): number {
  let crc = 0;
  for (const byte of bytes) {
    crc ^= byte << 8;
    for (let bit = 0; bit < 8; bit += 1) {
      crc = (crc & 0x8000) === 0 ? crc << 1 : (crc << 1) ^ 0x1021;
    }
    crc &= 0xffff;
  }
  return crc;
}

function toBase32(bytes: Uint8Array): string {
  let text = '';
  let held = 0;
  let bits = 0;
  for (const byte of bytes) {
    held = ((held << 8) | byte) & 0xfff;
    bits += 8;
    for (; bits >= 5; bits -= 5) text += DIGITS[(held >> (bits - 5)) & 31];
  }
  return bits === 0 ? text : text + DIGITS[(held << (5 - bits)) & 31];
}

/** The seed of 32 raw bytes. */
export function seedOfRaw(kind: SeedKind, raw: Uint8Array): string {
  assert(raw.length === RAW_BYTES, 'a seed of 32 bytes');
  const all = new Uint8Array(ALL_BYTES);
  const prefix = KINDS[kind];
  all[0] = SEED | (prefix >> 5);
  all[1] = (prefix & 31) << 3;
  all.set(raw, START_BYTES);
  const crc = crc16(all.subarray(0, START_BYTES + RAW_BYTES));
  new DataView(all.buffer).setUint16(START_BYTES + RAW_BYTES, crc, true);
  return toBase32(all);
}

/** The raw bytes of a seed of this kind; null where it is none. */
export function rawOfSeed(kind: SeedKind, seed: string): Bytes | null {
  if (seed.length !== SEED_LENGTH) return null;
  let held = 0;
  let bits = 0;
  let at = 0;
  const all = new Uint8Array(ALL_BYTES);
  for (const digit of seed) {
    held = ((held << 5) | DIGITS.indexOf(digit)) & 0xfff;
    bits += 5;
    if (bits < 8) continue;
    bits -= 8;
    all[at] = (held >> bits) & 0xff;
    at += 1;
  }
  const raw = all.slice(START_BYTES, START_BYTES + RAW_BYTES);
  // Written again it must be the same: kind, sum and digits are checked at once.
  return seedOfRaw(kind, raw) === seed ? raw : null;
}
