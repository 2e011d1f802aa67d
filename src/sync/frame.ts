/**
 * The form of everything that is sealed: one byte of format, 8 bytes that name the key, a random nonce of 12
 * bytes, then AES-256-GCM of a text and its tag. The text is deflated where that makes it shorter and filled
 * up to steps of 256 bytes, so that lengths tell little. Bound to it as additional data: the place where it is
 * kept, and everything before the ciphertext. A message that is moved or changed does not open.
 */
import { PLAIN_BYTES_MAX } from '../base/caps.ts';
import { fromHex, hex, joined, random, textOf, utf8 } from './bytes.ts';
import type { Bytes } from './store-types.ts';

const PLAIN = 1;
const DEFLATED = 2;
const KEY_ID_BYTES = 8;
const NONCE_BYTES = 12;
const HEADER_BYTES = 1 + KEY_ID_BYTES + NONCE_BYTES;
const TAG_BYTES = 16;
const STEP_BYTES = 256;
const LENGTH_BYTES = 4;
/** Shorter texts fill one step or two either way. */
const PACKED_FROM_BYTES = 1024;

/** Sealed bytes, taken apart and not yet opened. */
export interface Frame {
  readonly isPacked: boolean;
  /** 16 hex characters. */
  readonly keyId: string;
  readonly header: Bytes;
  readonly nonce: Bytes;
  readonly ciphertext: Bytes;
}

/** What is the same for sealing and for opening. */
interface FrameKey {
  readonly key: CryptoKey;
  /** The text of the place, without the hash. */
  readonly place: string;
}

async function through(
  bytes: Bytes,
  stream: CompressionStream | DecompressionStream,
): Promise<Bytes | null> {
  const reader = new Blob([bytes]).stream().pipeThrough(stream).getReader();
  const parts: Uint8Array[] = [];
  let length = 0;
  for (let next = await reader.read(); !next.done; next = await reader.read()) {
    length += next.value.length;
    // A few kilobytes can be the deflated form of gigabytes.
    if (length > PLAIN_BYTES_MAX) {
      await reader.cancel().catch(() => undefined);
      return null;
    }
    parts.push(next.value);
  }
  return joined(...parts);
}

async function packed(plain: Bytes): Promise<Bytes | null> {
  if (plain.length < PACKED_FROM_BYTES || typeof CompressionStream !== 'function') return null;
  const short = await through(plain, new CompressionStream('deflate-raw'));
  return short !== null && short.length < plain.length ? short : null;
}

function filledUp(body: Bytes): Bytes {
  const steps = Math.ceil((LENGTH_BYTES + body.length) / STEP_BYTES);
  const filled = new Uint8Array(steps * STEP_BYTES);
  new DataView(filled.buffer).setUint32(0, body.length);
  filled.set(body, LENGTH_BYTES);
  return filled;
}

function bodyOf(filled: Bytes): Bytes | null {
  const length = new DataView(filled.buffer, filled.byteOffset).getUint32(0);
  const end = LENGTH_BYTES + length;
  return end > filled.length ? null : filled.slice(LENGTH_BYTES, end);
}

const gcm = (o: { readonly nonce: Bytes; readonly header: Bytes; readonly place: string }) => ({
  name: 'AES-GCM',
  iv: o.nonce,
  // No place holds a line feed: what is bound can be read in one way only.
  additionalData: joined(utf8(`${o.place}\n`), o.header),
});

/** Seals a text. `keyId`: 16 hex characters. */
export async function sealFrame(
  crypto: Crypto,
  o: FrameKey & { readonly keyId: string; readonly text: string },
): Promise<Bytes> {
  const plain = utf8(o.text);
  const short = await packed(plain);
  const nonce = random(crypto, NONCE_BYTES);
  const format = Uint8Array.of(short === null ? PLAIN : DEFLATED);
  const header = joined(format, fromHex(o.keyId), nonce);
  const algorithm = gcm({ nonce, header, place: o.place });
  const ciphertext = await crypto.subtle.encrypt(algorithm, o.key, filledUp(short ?? plain));
  return joined(header, new Uint8Array(ciphertext));
}

/** Takes sealed bytes apart; null where they have not the form. */
export function frameOf(data: Bytes): Frame | null {
  const format = data[0];
  if (format !== PLAIN && format !== DEFLATED) return null;
  const filled = data.length - HEADER_BYTES - TAG_BYTES;
  if (filled < STEP_BYTES || filled % STEP_BYTES !== 0) return null;
  return {
    isPacked: format === DEFLATED,
    keyId: hex(data.subarray(1, 1 + KEY_ID_BYTES)),
    header: data.slice(0, HEADER_BYTES),
    nonce: data.slice(1 + KEY_ID_BYTES, HEADER_BYTES),
    ciphertext: data.slice(HEADER_BYTES),
  };
}

/**
 * The text inside. `does-not-open`: another key, another place, or changed; `bad-content`: it opened, and
 * holds no text.
 */
export async function openFrame(
  crypto: Crypto,
  o: FrameKey & { readonly frame: Frame },
): Promise<{ readonly text: string } | 'does-not-open' | 'bad-content'> {
  const { frame, place } = o;
  const { nonce, header, ciphertext } = frame;
  const filled = await crypto.subtle
    .decrypt(gcm({ nonce, header, place }), o.key, ciphertext)
    .catch(() => null);
  if (filled === null) return 'does-not-open';
  const body = bodyOf(new Uint8Array(filled));
  const plain =
    body === null || !frame.isPacked
      ? body
      : await through(body, new DecompressionStream('deflate-raw')).catch(() => null);
  const text = plain === null ? null : textOf(plain);
  return text === null ? 'bad-content' : { text };
}
