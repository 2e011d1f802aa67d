/**
 * The passphrase of the clinic lead, stretched over a random salt of 128 bits. Only salt, rounds and the
 * derived key are kept; the passphrase never is.
 */
import { bytesToHex, hexToBytes } from '@noble/hashes/utils.js';
import * as v from 'valibot';
import { KEY_ITERATIONS_MAX } from '../../base/caps.ts';
import { parsedOr } from '../../protocol/read-outside.ts';
import { PBKDF2_ROUNDS, passphraseBits } from '../../storage/passphrase-bits.ts';

export const PASSPHRASE_LENGTH_MIN = 8;
const SALT_BYTES = 16;

/** The part of Web Crypto that is used. */
export interface CryptoLike {
  readonly subtle: SubtleCrypto;
  getRandomValues(array: Uint8Array<ArrayBuffer>): Uint8Array;
}

interface StoredPassphrase {
  /** Who answers for the protocols, as written into every confirmation. */
  readonly person: string;
  readonly rounds: number;
  readonly saltHex: string;
  readonly keyHex: string;
  readonly setOnWallMs: number;
}

const passphraseSchema = v.object({
  person: v.string(),
  rounds: v.pipe(v.number(), v.safeInteger(), v.minValue(1), v.maxValue(KEY_ITERATIONS_MAX)),
  saltHex: v.pipe(v.string(), v.hexadecimal()),
  keyHex: v.string(),
  setOnWallMs: v.number(),
});

/** What was stored; null when it is damaged or was never set. */
export function parsePassphrase(value: unknown): StoredPassphrase | null {
  return parsedOr(passphraseSchema, value);
}

async function derive(
  crypto: CryptoLike,
  o: { readonly passphrase: string; readonly saltHex: string; readonly rounds: number },
): Promise<string> {
  const { passphrase, rounds } = o;
  const salt = new Uint8Array(hexToBytes(o.saltHex));
  return bytesToHex(await passphraseBits(crypto, { passphrase, salt, iterations: rounds }));
}

/** Makes what is stored of a new passphrase. */
export async function makePassphrase(
  crypto: CryptoLike,
  o: { readonly person: string; readonly passphrase: string; readonly nowWallMs: number },
): Promise<StoredPassphrase> {
  const saltHex = bytesToHex(crypto.getRandomValues(new Uint8Array(SALT_BYTES)));
  const { passphrase, person } = o;
  const keyHex = await derive(crypto, { passphrase, saltHex, rounds: PBKDF2_ROUNDS });
  return { person, rounds: PBKDF2_ROUNDS, saltHex, keyHex, setOnWallMs: o.nowWallMs };
}

/** Whether the passphrase is the one that was set. Takes as long for a wrong one. */
export async function isPassphrase(
  crypto: CryptoLike,
  o: { readonly stored: StoredPassphrase; readonly passphrase: string },
): Promise<boolean> {
  const { saltHex, rounds, keyHex } = o.stored;
  return (await derive(crypto, { passphrase: o.passphrase, saltHex, rounds })) === keyHex;
}

const FREE_ATTEMPTS = 3;
const FIRST_WAIT_MS = 5_000;
const LONGEST_WAIT_MS = 15 * 60_000;

export interface Attempts {
  readonly failed: number;
  readonly lastWallMs: number;
}

export const NO_ATTEMPTS: Attempts = { failed: 0, lastWallMs: 0 };

const attemptsSchema = v.object({ failed: v.number(), lastWallMs: v.number() });

export function parseAttempts(value: unknown): Attempts {
  return parsedOr(attemptsSchema, value) ?? NO_ATTEMPTS;
}

/** How long the next attempt has to wait, in ms: nothing for the first three, then 5 s, doubled up to 15 min. */
export function waitAfterMs({ failed }: Attempts): number {
  if (failed < FREE_ATTEMPTS) return 0;
  return Math.min(LONGEST_WAIT_MS, FIRST_WAIT_MS * 2 ** (failed - FREE_ATTEMPTS));
}
