/** The key that vouches for tablets: Ed25519, made from a seed that lies in the lead's box alone. */
import { present } from '../base/assert.ts';
import type { TabletKeys } from '../storage/signatures.ts';
import { fromHex, hex, joined, random } from './bytes.ts';

const SEED_BYTES = 32;
/** What stands before the seed in PKCS #8 (RFC 8410, section 7). */
const PKCS8_START = fromHex('302e020100300506032b657004220420');

/** A new seed, hex. */
export const makeRootSeed = (crypto: Crypto): string => hex(random(crypto, SEED_BYTES));

const base64 = (url: string): string => atob(url.replaceAll('-', '+').replaceAll('_', '/'));

/** The keys of a seed. Where the platform has no Ed25519 a library signs. */
export async function rootKeys({ subtle }: Crypto, seed: string): Promise<TabletKeys> {
  const pkcs8 = joined(PKCS8_START, fromHex(seed));
  try {
    const open = await subtle.importKey('pkcs8', pkcs8, 'Ed25519', true, ['sign']);
    const { x } = await subtle.exportKey('jwk', open);
    const privateKey = await subtle.importKey('pkcs8', pkcs8, 'Ed25519', false, ['sign']);
    const publicBytes = Uint8Array.from(base64(present(x, 'a public key')), (c) => c.charCodeAt(0));
    return { publicKey: hex(publicBytes), privateKey };
  } catch {
    const { ed25519 } = await import('@noble/curves/ed25519.js');
    const privateKey = fromHex(seed);
    return { publicKey: hex(ed25519.getPublicKey(privateKey)), privateKey };
  }
}
