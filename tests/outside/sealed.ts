/** Backup files with any contents, made and opened without the slow part of key derivation. */
import { sealLines } from '../../src/runtime/backup/backup-cipher.ts';
import type { CryptoLike } from '../../src/runtime/lead/lead-passphrase.ts';

const { subtle } = globalThis.crypto;

/** Which rounds of key derivation were asked for, in order. */
export interface CountingCrypto {
  readonly crypto: CryptoLike;
  readonly asked: number[];
}

type DeriveBits = SubtleCrypto['deriveBits'];

/** Web Crypto that stretches a passphrase once, however often it is asked to, and remembers what was asked. */
export function quickCrypto(): CountingCrypto {
  const asked: number[] = [];
  const deriveBits: DeriveBits = async (how, key, length) => {
    if (typeof how === 'string' || !('iterations' in how)) {
      return subtle.deriveBits(how, key, length);
    }
    asked.push(how.iterations);
    return subtle.deriveBits({ ...how, iterations: 1 }, key, length);
  };
  const quick = new Proxy(subtle, {
    get: (target, name) => {
      if (name === 'deriveBits') return deriveBits;
      const value: unknown = Reflect.get(target, name, target);
      return typeof value === 'function' ? value.bind(target) : value;
    },
  });
  const getRandomValues: CryptoLike['getRandomValues'] = (array) =>
    globalThis.crypto.getRandomValues(array);
  return { asked, crypto: { subtle: quick, getRandomValues } };
}

export const passphrase = 'long enough for a test';

async function* streamed(parts: readonly string[]): AsyncGenerator<string> {
  yield* parts;
}

/** A file that holds this text, whatever it is. */
export function sealedText(...parts: readonly string[]): Promise<Blob> {
  return sealLines(quickCrypto().crypto, { passphrase, lines: streamed(parts) });
}

/** The file with other words in its first line. */
export async function withHead(file: Blob, change: object): Promise<Blob> {
  const bytes = new Uint8Array(await file.arrayBuffer());
  const feed = bytes.indexOf(0x0a);
  const head: object = JSON.parse(new TextDecoder().decode(bytes.subarray(0, feed)));
  return new Blob([`${JSON.stringify({ ...head, ...change })}\n`, bytes.slice(feed + 1)]);
}
