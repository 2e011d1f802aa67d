/**
 * Signatures of one tablet: Ed25519 (RFC 8032) through the platform's Web Crypto. Keys and signatures are
 * lower-case hex. Where a browser has none, a library signs and checks; its private key lies in the tablet's
 * database and can be read by a script of this origin.
 */
import { bytesToHex, hexToBytes, utf8ToBytes } from '@noble/hashes/utils.js';

/** The part of Web Crypto that is used. */
export interface SigningCrypto {
  readonly subtle: Pick<
    SubtleCrypto,
    'generateKey' | 'exportKey' | 'importKey' | 'sign' | 'verify'
  >;
}

const ED25519 = 'Ed25519';

/** The two keys of a tablet. The private one can be read by nobody where the platform keeps it. */
export interface TabletKeys {
  /** 32 bytes. */
  readonly publicKey: string;
  /** The platform's own, or 32 bytes where it has none and a library signs. */
  readonly privateKey: CryptoKey | Uint8Array<ArrayBuffer>;
}

/** Wanted only where the platform has no Ed25519. */
const library = async () => (await import('@noble/curves/ed25519.js')).ed25519;

/** New keys; null where not even the library can be had. */
export async function makeTabletKeys({ subtle }: SigningCrypto): Promise<TabletKeys | null> {
  try {
    const made = await subtle.generateKey(ED25519, false, ['sign', 'verify']);
    if (!('privateKey' in made)) return null;
    const raw = await subtle.exportKey('raw', made.publicKey);
    return { publicKey: bytesToHex(new Uint8Array(raw)), privateKey: made.privateKey };
  } catch {
    return makeByLibrary().catch(() => null);
  }
}

async function makeByLibrary(): Promise<TabletKeys> {
  const { secretKey, publicKey } = (await library()).keygen();
  return { publicKey: bytesToHex(publicKey), privateKey: new Uint8Array(secretKey) };
}

/** The signature of a text, 64 bytes. */
export async function signText(
  { subtle }: SigningCrypto,
  { privateKey }: TabletKeys,
  text: string,
): Promise<string> {
  const bytes = new Uint8Array(utf8ToBytes(text));
  if (privateKey instanceof Uint8Array)
    return bytesToHex((await library()).sign(bytes, privateKey));
  return bytesToHex(new Uint8Array(await subtle.sign(ED25519, privateKey, bytes)));
}

/** Whether the holder of this key signed this text; null where that cannot be checked here. */
export async function isSignedBy(
  { subtle }: SigningCrypto,
  o: { readonly publicKey: string; readonly signature: string; readonly text: string },
): Promise<boolean | null> {
  const raw = new Uint8Array(hexToBytes(o.publicKey));
  const signature = new Uint8Array(hexToBytes(o.signature));
  const bytes = new Uint8Array(utf8ToBytes(o.text));
  const key = await subtle.importKey('raw', raw, ED25519, false, ['verify']).catch(() => null);
  if (key !== null) return subtle.verify(ED25519, key, signature, bytes);
  return library().then(
    (ed25519) => ed25519.verify(signature, bytes, raw),
    () => null,
  );
}
