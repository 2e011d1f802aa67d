/**
 * The clinic's secret: 32 random bytes that every tablet of the clinic holds, by version. What seals and
 * wraps is derived from it by HKDF-SHA-256 (RFC 5869), a key for each use.
 */
import { assert, present } from '../base/assert.ts';
import { fromHex, hex, random, utf8 } from './bytes.ts';
import type { ClinicSecret } from './sealed-types.ts';

const SECRET_BYTES = 32;
const ID_BITS = 64;
const AES_BITS = 256;

/** What is derived from one secret. */
export interface SecretKeys {
  /** 16 hex characters that name the secret. Two of one version have two: they come of a fork. */
  readonly id: string;
  /** AES-KW: wraps the keys of cases. */
  readonly wrap: CryptoKey;
  /** AES-256-GCM. */
  readonly facts: CryptoKey;
  /** AES-256-GCM. */
  readonly live: CryptoKey;
}

/** A new secret, hex: for the lead's box and for those it is sealed for. */
export const makeSecret = (crypto: Crypto): string => hex(random(crypto, SECRET_BYTES));

/** Takes a secret in, so that no script can read it back. `secret`: hex, 32 bytes. */
export async function importSecret(
  crypto: Crypto,
  o: { readonly version: number; readonly secret: string },
): Promise<ClinicSecret> {
  const bytes = fromHex(o.secret);
  assert(bytes.length === SECRET_BYTES, 'a secret of 32 bytes');
  const key = await crypto.subtle.importKey('raw', bytes, 'HKDF', false, [
    'deriveKey',
    'deriveBits',
  ]);
  return { version: o.version, key };
}

const hkdf = (purpose: string) => ({
  name: 'HKDF',
  hash: 'SHA-256',
  salt: new Uint8Array(),
  info: utf8(`lutewatch clinic-secret 1 ${purpose}`),
});

async function derive({ subtle }: Crypto, { key }: ClinicSecret): Promise<SecretKeys> {
  const gcm = { name: 'AES-GCM', length: AES_BITS };
  const kw = { name: 'AES-KW', length: AES_BITS };
  const [id, wrap, facts, live] = await Promise.all([
    subtle.deriveBits(hkdf('id'), key, ID_BITS),
    subtle.deriveKey(hkdf('wrap'), key, kw, false, ['wrapKey', 'unwrapKey']),
    subtle.deriveKey(hkdf('facts'), key, gcm, false, ['encrypt', 'decrypt']),
    subtle.deriveKey(hkdf('live'), key, gcm, false, ['encrypt', 'decrypt']),
  ]);
  return { id: hex(id), wrap, facts, live };
}

/** Derived once for each key that is held. */
const DERIVED = new WeakMap<CryptoKey, Promise<SecretKeys>>();

export function keysOf(crypto: Crypto, secret: ClinicSecret): Promise<SecretKeys> {
  const known = DERIVED.get(secret.key);
  if (known !== undefined) return known;
  const made = derive(crypto, secret);
  DERIVED.set(secret.key, made);
  return made;
}

/** The one that seals what is new. */
export const newestSecret = (secrets: readonly ClinicSecret[]): ClinicSecret =>
  present(secrets.at(-1), 'the secret of the clinic');

/** The keys of the secret that is named; null where this tablet does not hold it. */
export async function secretNamed(
  crypto: Crypto,
  o: { readonly secrets: readonly ClinicSecret[]; readonly id: string },
): Promise<SecretKeys | null> {
  // Most messages are sealed by the newest.
  for (const secret of o.secrets.toReversed()) {
    const keys = await keysOf(crypto, secret);
    if (keys.id === o.id) return keys;
  }
  return null;
}

/** The secrets with one more, oldest first; the same list where it is held already. Any order gives one result. */
export async function withSecret(
  crypto: Crypto,
  o: { readonly secrets: readonly ClinicSecret[]; readonly secret: ClinicSecret },
): Promise<readonly ClinicSecret[]> {
  const { secrets, secret } = o;
  const { id } = await keysOf(crypto, secret);
  if ((await secretNamed(crypto, { secrets, id })) !== null) return secrets;
  const named = await Promise.all(
    [...secrets, secret].map(async (each) => ({ each, id: (await keysOf(crypto, each)).id })),
  );
  return named
    .toSorted((a, b) => a.each.version - b.each.version || (a.id < b.id ? -1 : 1))
    .map(({ each }) => each);
}
