/**
 * Seals 32 bytes for one tablet alone: a one-time ECDH key on P-256 (NIST SP 800-56A), HKDF-SHA-256 over what
 * the two keys agree on, AES-256-GCM.
 */
import { fromHex, hex, joined, random, utf8 } from './bytes.ts';
import type { SealedSecret } from './case-keys.ts';
import { importSecret } from './clinic-secret.ts';
import type { ClinicSecret, Membership } from './sealed-types.ts';
import type { Bytes } from './store-types.ts';

const CURVE = { name: 'ECDH', namedCurve: 'P-256' } as const;
const NONCE_BYTES = 12;
const AES_BITS = 256;

/** New keys that open what is sealed for this tablet; the private one can be read by no script. */
export const makeSealingKeys = ({ subtle }: Crypto): Promise<CryptoKeyPair> =>
  subtle.generateKey(CURVE, false, ['deriveBits']);

/** The public half, hex, 65 bytes uncompressed. */
export const publicSealingKey = async (
  { subtle }: Crypto,
  { publicKey }: CryptoKeyPair,
): Promise<string> => hex(await subtle.exportKey('raw', publicKey));

/** For whom, and as what: sealed for one purpose it opens for no other. */
interface SealedWhat {
  readonly site: string;
  readonly device: string;
  readonly version: number;
}

const info = ({ site, device, version }: SealedWhat): Bytes =>
  utf8(`lutewatch clinic-secret 1 for ${site}.${device}.${version}`);

async function agreedKey(
  { subtle }: Crypto,
  o: {
    readonly own: CryptoKey;
    readonly other: Bytes;
    /** Both public keys, the one-time one first. */
    readonly salt: Bytes;
    readonly what: SealedWhat;
  },
): Promise<CryptoKey> {
  // Throws for a point that is not on the curve.
  const other = await subtle.importKey('raw', o.other, CURVE, false, []);
  const agreed = await subtle.deriveBits({ name: 'ECDH', public: other }, o.own, AES_BITS);
  const from = await subtle.importKey('raw', agreed, 'HKDF', false, ['deriveKey']);
  const hkdf = { name: 'HKDF', hash: 'SHA-256', salt: o.salt, info: info(o.what) };
  const aes = { name: 'AES-GCM', length: AES_BITS };
  return subtle.deriveKey(hkdf, from, aes, false, ['encrypt', 'decrypt']);
}

type SealedForOne = SealedSecret['sealed'][number];

/** Seals a secret (hex) for the holder of a sealing key (hex). */
export async function sealFor(
  crypto: Crypto,
  o: { readonly what: SealedWhat; readonly sealingKey: string; readonly secret: string },
): Promise<SealedForOne> {
  const { what } = o;
  const once = await makeSealingKeys(crypto);
  const ephemeral = await publicSealingKey(crypto, once);
  const other = fromHex(o.sealingKey);
  const salt = joined(fromHex(ephemeral), other);
  const key = await agreedKey(crypto, { own: once.privateKey, other, salt, what });
  const iv = random(crypto, NONCE_BYTES);
  const algorithm = { name: 'AES-GCM', iv, additionalData: info(what) };
  const sealed = await crypto.subtle.encrypt(algorithm, key, fromHex(o.secret));
  return { device: what.device, ephemeral, box: hex(joined(iv, new Uint8Array(sealed))) };
}

/** Opens what was sealed for this tablet, hex; null where it does not open. */
export async function openFor(
  crypto: Crypto,
  o: { readonly what: SealedWhat; readonly keys: CryptoKeyPair; readonly sealed: SealedForOne },
): Promise<string | null> {
  const { what, keys, sealed } = o;
  const other = fromHex(sealed.ephemeral);
  const box = fromHex(sealed.box);
  const iv = box.slice(0, NONCE_BYTES);
  try {
    const salt = joined(other, fromHex(await publicSealingKey(crypto, keys)));
    const key = await agreedKey(crypto, { own: keys.privateKey, other, salt, what });
    const algorithm = { name: 'AES-GCM', iv, additionalData: info(what) };
    return hex(await crypto.subtle.decrypt(algorithm, key, box.subarray(NONCE_BYTES)));
  } catch {
    return null;
  }
}

/** A new secret of the clinic, from its message; null where it was not sealed for this tablet. */
export async function openClinicSecret(
  crypto: Crypto,
  o: { readonly membership: Membership; readonly secret: SealedSecret },
): Promise<ClinicSecret | null> {
  const { site, device, sealing } = o.membership;
  const { version } = o.secret;
  const sealed = o.secret.sealed.find((each) => each.device === device);
  if (sealed === undefined) return null;
  const what = { site, device, version };
  const secret = await openFor(crypto, { what, keys: sealing, sealed });
  return secret === null ? null : importSecret(crypto, { version, secret });
}
