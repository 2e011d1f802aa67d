/**
 * What a passphrase is stretched to: PBKDF2 with HMAC-SHA-256 (RFC 8018) through the platform's Web Crypto,
 * 600,000 rounds (the figure of the OWASP password storage guidance, 2023).
 */

export const PBKDF2_ROUNDS = 600_000;
const KEY_BITS = 256;

/** 32 bytes from a passphrase. */
export async function passphraseBits(
  { subtle }: { readonly subtle: SubtleCrypto },
  o: {
    readonly passphrase: string;
    readonly salt: Uint8Array<ArrayBuffer>;
    readonly iterations: number;
  },
): Promise<Uint8Array<ArrayBuffer>> {
  // The same letters typed on two keyboards can arrive composed or decomposed (Unicode NFKC).
  const typed = new TextEncoder().encode(o.passphrase.normalize('NFKC'));
  const key = await subtle.importKey('raw', typed, 'PBKDF2', false, ['deriveBits']);
  const { salt, iterations } = o;
  const algorithm = { name: 'PBKDF2', hash: 'SHA-256', salt, iterations };
  return new Uint8Array(await subtle.deriveBits(algorithm, key, KEY_BITS));
}
