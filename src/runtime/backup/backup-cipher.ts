/** Seals lines of text into a backup file and opens it again, a chunk at a time. */

import { BACKUP_LINE_LENGTH_MAX } from '../../base/caps.ts';
import { passphraseBits } from '../../storage/passphrase-bits.ts';
import type { CryptoLike } from '../lead/lead-passphrase.ts';
import { base64 } from './backup-base64.ts';
import {
  BACKUP_FORMAT,
  BACKUP_ITERATIONS,
  BackupFault,
  type BackupHeader,
  boundText,
  CHECK_BYTES,
  CHUNK_BYTES,
  HEADER_BYTES_MAX,
  NONCE_PREFIX_BYTES,
  parseHeader,
  SALT_BYTES,
  TAG_BYTES,
} from './backup-format.ts';

type Bytes = Uint8Array<ArrayBuffer>;

const encoder = new TextEncoder();
const KEY_BITS = 256;
const LINE_FEED = 0x0a;
/** Lines are handed to the packer in pieces of about this many characters. */
const PIECE_LENGTH = 65_536;

interface Keys {
  readonly key: CryptoKey;
  readonly check: string;
}

async function deriveKeys(
  crypto: CryptoLike,
  o: { readonly passphrase: string; readonly salt: Bytes; readonly iterations: number },
): Promise<Keys> {
  const { subtle } = crypto;
  const stretched = await passphraseBits(crypto, o);
  const root = await subtle.importKey('raw', stretched, 'HKDF', false, ['deriveBits', 'deriveKey']);
  const hkdf = (purpose: string) => ({
    name: 'HKDF',
    hash: 'SHA-256',
    salt: new Uint8Array(),
    info: encoder.encode(`${BACKUP_FORMAT} ${purpose}`),
  });
  const aes = { name: 'AES-GCM', length: KEY_BITS };
  const key = await subtle.deriveKey(hkdf('key'), root, aes, false, ['encrypt', 'decrypt']);
  const check = await subtle.deriveBits(hkdf('check'), root, CHECK_BYTES * 8);
  return { key, check: base64.encode(new Uint8Array(check)) };
}

function nonceOf(o: {
  readonly prefix: Bytes;
  readonly chunk: number;
  readonly isLast: boolean;
}): Bytes {
  const nonce = new Uint8Array(NONCE_PREFIX_BYTES + 5);
  nonce.set(o.prefix);
  new DataView(nonce.buffer).setUint32(NONCE_PREFIX_BYTES, o.chunk);
  nonce[NONCE_PREFIX_BYTES + 4] = o.isLast ? 1 : 0;
  return nonce;
}

/** A stream that asks `source` for its next piece only when somebody reads. */
function streamOf(source: AsyncIterator<Bytes>): ReadableStream<Bytes> {
  return new ReadableStream({
    async pull(controller) {
      const next = await source.next();
      if (next.done === true) controller.close();
      else controller.enqueue(next.value);
    },
    async cancel() {
      await source.return?.();
    },
  });
}

async function* bytesOf(stream: ReadableStream<Uint8Array>): AsyncGenerator<Uint8Array> {
  const reader = stream.getReader();
  try {
    for (let next = await reader.read(); !next.done; next = await reader.read()) yield next.value;
  } finally {
    await reader.cancel().catch(() => undefined);
  }
}

async function* encodePieces(lines: AsyncIterable<string>): AsyncGenerator<Bytes> {
  let piece = '';
  for await (const line of lines) {
    piece += line;
    if (piece.length < PIECE_LENGTH) continue;
    yield encoder.encode(piece);
    piece = '';
  }
  yield encoder.encode(piece);
}

/** Cuts bytes into chunks of one length; the last may be shorter, and is told apart. */
async function* chunksOf(
  pieces: AsyncIterable<Uint8Array>,
): AsyncGenerator<{ readonly bytes: Bytes; readonly isLast: boolean }> {
  let buffer = new Uint8Array(CHUNK_BYTES);
  let used = 0;
  for await (const piece of pieces) {
    for (let at = 0; at < piece.length; ) {
      if (used === CHUNK_BYTES) {
        yield { bytes: buffer, isLast: false };
        buffer = new Uint8Array(CHUNK_BYTES);
        used = 0;
      }
      const part = piece.subarray(at, at + CHUNK_BYTES - used);
      buffer.set(part, used);
      used += part.length;
      at += part.length;
    }
  }
  yield { bytes: buffer.slice(0, used), isLast: true };
}

/**
 * Writes a backup file. Parts are handed over to the browser one by one, so that only a chunk at a
 * time lies in the page's own memory.
 */
export async function sealLines(
  crypto: CryptoLike,
  o: { readonly passphrase: string; readonly lines: AsyncIterable<string> },
): Promise<Blob> {
  const salt = new Uint8Array(SALT_BYTES);
  const prefix = new Uint8Array(NONCE_PREFIX_BYTES);
  crypto.getRandomValues(salt);
  crypto.getRandomValues(prefix);
  const { passphrase } = o;
  const keys = await deriveKeys(crypto, { passphrase, salt, iterations: BACKUP_ITERATIONS });
  const isPacked = typeof CompressionStream === 'function';
  const header: BackupHeader = {
    format: BACKUP_FORMAT,
    formatVersion: 1,
    compression: isPacked ? 'gzip' : 'none',
    iterations: BACKUP_ITERATIONS,
    chunkBytes: CHUNK_BYTES,
    salt: base64.encode(salt),
    noncePrefix: base64.encode(prefix),
    check: keys.check,
    bodyBytes: 0,
  };
  const additionalData = encoder.encode(boundText(header));
  const plain = streamOf(encodePieces(o.lines));
  const packed = isPacked ? plain.pipeThrough(new CompressionStream('gzip')) : plain;
  const parts: Blob[] = [];
  let bodyBytes = 0;
  for await (const { bytes, isLast } of chunksOf(bytesOf(packed))) {
    const iv = nonceOf({ prefix, chunk: parts.length, isLast });
    const sealed = await crypto.subtle.encrypt(
      { name: 'AES-GCM', iv, additionalData },
      keys.key,
      bytes,
    );
    bodyBytes += sealed.byteLength;
    parts.push(new Blob([sealed]));
  }
  const line = `${JSON.stringify({ ...header, bodyBytes })}\n`;
  return new Blob([line, ...parts], { type: 'application/octet-stream' });
}

/** A file that lies in another app's keeping can be gone, or another, by the time it is read. */
async function readPart(file: Blob, from: number, to: number): Promise<ArrayBuffer> {
  try {
    return await file.slice(from, to).arrayBuffer();
  } catch (cause) {
    const came = cause instanceof Error ? cause.name : cause;
    throw new BackupFault('backup-unreadable', { expected: 'a file that can be read', came });
  }
}

interface OpenedFile {
  readonly header: BackupHeader;
  readonly key: CryptoKey;
  readonly file: Blob;
  /** Where the first chunk begins. */
  readonly bodyAt: number;
}

/**
 * Reads the first line and tries the passphrase.
 * @throws BackupFault when the file is none, is too new or too short, cannot be read, or the
 *   passphrase is wrong.
 */
export async function unlockFile(
  crypto: CryptoLike,
  o: { readonly file: Blob; readonly passphrase: string },
): Promise<OpenedFile> {
  const { file, passphrase } = o;
  const start = new Uint8Array(await readPart(file, 0, HEADER_BYTES_MAX));
  const feed = start.indexOf(LINE_FEED);
  if (feed === -1) {
    const expected = 'a backup of this app';
    throw new BackupFault('backup-not-one', { expected, came: `${file.size} bytes` });
  }
  const parsed = parseHeader(new TextDecoder().decode(start.subarray(0, feed)));
  if (!parsed.ok) {
    const { code, expected, came } = parsed.error;
    throw new BackupFault(code, { expected, came });
  }
  const header = parsed.value;
  const bodyAt = feed + 1;
  const came = `${file.size - bodyAt} bytes`;
  const expected = `${header.bodyBytes} bytes`;
  if (file.size - bodyAt < header.bodyBytes) {
    throw new BackupFault('backup-cut-short', { expected, came });
  }
  if (file.size - bodyAt > header.bodyBytes) {
    throw new BackupFault('backup-altered', { expected, came });
  }
  const salt = base64.decode(header.salt);
  const { iterations } = header;
  const keys = await deriveKeys(crypto, { passphrase, salt, iterations });
  if (keys.check !== header.check) {
    throw new BackupFault('backup-wrong-passphrase', { expected: 'its passphrase', came: 'other' });
  }
  return { header, key: keys.key, file, bodyAt };
}

async function* openChunks(crypto: CryptoLike, opened: OpenedFile): AsyncGenerator<Bytes> {
  const { header, key, file, bodyAt } = opened;
  const additionalData = encoder.encode(boundText(header));
  const prefix = base64.decode(header.noncePrefix);
  const step = header.chunkBytes + TAG_BYTES;
  for (let at = bodyAt, chunk = 0; at < file.size; at += step, chunk += 1) {
    const sealed = await readPart(file, at, at + step);
    const iv = nonceOf({ prefix, chunk, isLast: at + step >= file.size });
    try {
      const plain = await crypto.subtle.decrypt(
        { name: 'AES-GCM', iv, additionalData },
        key,
        sealed,
      );
      yield new Uint8Array(plain);
    } catch {
      const expected = 'a file as it was written';
      throw new BackupFault('backup-altered', { expected, came: `chunk ${chunk}` });
    }
  }
}

/**
 * Cuts text into lines. A line that comes in many pieces is put together once, when its end is
 * there: the work grows with the text, not with its square.
 * @throws BackupFault when a line is longer than any that is written.
 */
async function* linesIn(pieces: AsyncIterable<Uint8Array>): AsyncGenerator<string> {
  const decoder = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true });
  let parts: string[] = [];
  let length = 0;
  let line = 1;
  const add = (part: string): void => {
    parts.push(part);
    length += part.length;
    if (length <= BACKUP_LINE_LENGTH_MAX) return;
    const expected = `lines of at most ${BACKUP_LINE_LENGTH_MAX / 1_000_000} MB`;
    throw new BackupFault('backup-contents', { expected, came: `more in line ${line}` });
  };
  for await (const bytes of pieces) {
    const text = decoder.decode(bytes, { stream: true });
    let from = 0;
    for (let end = text.indexOf('\n'); end !== -1; end = text.indexOf('\n', from)) {
      add(text.slice(from, end));
      yield parts.join('');
      parts = [];
      length = 0;
      line += 1;
      from = end + 1;
    }
    if (from < text.length) add(text.slice(from));
  }
  // Half a character at the very end is a fault too.
  add(decoder.decode());
  if (length > 0) yield parts.join('');
}

/**
 * The lines of an unlocked file, without their line feeds. Everything that is yielded is authentic,
 * but only the end of the iteration says that the file is whole.
 * @throws BackupFault
 */
export async function* openLines(crypto: CryptoLike, opened: OpenedFile): AsyncGenerator<string> {
  let fault: unknown = null;
  const chunks = openChunks(crypto, opened);
  const source: AsyncIterator<Bytes> = {
    next: () =>
      chunks.next().catch((cause: unknown) => {
        // An unpacker in between would replace the reason by its own.
        fault = cause;
        throw cause;
      }),
    return: () => chunks.return(undefined),
  };
  const sealed = streamOf(source);
  const isPacked = opened.header.compression === 'gzip';
  const plain = isPacked ? sealed.pipeThrough(new DecompressionStream('gzip')) : sealed;
  try {
    yield* linesIn(bytesOf(plain));
  } catch (cause) {
    if (fault instanceof BackupFault) throw fault;
    if (cause instanceof BackupFault) throw cause;
    const expected = 'contents that can be unpacked';
    const came = cause instanceof Error ? cause.message : cause;
    throw new BackupFault('backup-altered', { expected, came });
  }
}
