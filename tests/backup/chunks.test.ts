/**
 * A file of several chunks: none can be dropped, swapped or doubled, even by somebody who puts the
 * length in the first line right.
 */
import { beforeAll, describe, expect, it } from 'vitest';
import { openLines, sealLines, unlockFile } from '../../src/runtime/backup/backup-cipher.ts';
import { BackupFault, CHUNK_BYTES, TAG_BYTES } from '../../src/runtime/backup/backup-format.ts';
import type { CryptoLike } from '../../src/runtime/lead/lead-passphrase.ts';
import { lehmer } from './filled-journal.ts';

const passphrase = 'long enough for a test';
const crypto: CryptoLike = {
  subtle: globalThis.crypto.subtle,
  getRandomValues: (array) => globalThis.crypto.getRandomValues(array),
};
const STEP = CHUNK_BYTES + TAG_BYTES;

/** Lines that gzip cannot shrink much. */
const lines = (() => {
  const next = lehmer(11);
  const word = (): string => Math.floor(next() * 1e9).toString(36);
  return Array.from(
    { length: 60_000 },
    (_, i) => `${i} ${Array.from({ length: 15 }, word).join('')}`,
  );
})();

async function* withFeeds(): AsyncGenerator<string> {
  for (const line of lines) yield `${line}\n`;
}

async function readAll(file: Blob): Promise<readonly string[]> {
  const opened = await unlockFile(crypto, { file, passphrase });
  const read: string[] = [];
  for await (const line of openLines(crypto, opened)) read.push(line);
  return read;
}

describe('a file of several chunks', () => {
  let head: Record<string, unknown>;
  let chunks: readonly Uint8Array<ArrayBuffer>[];
  let file: Blob;

  beforeAll(async () => {
    file = await sealLines(crypto, { passphrase, lines: withFeeds() });
    const bytes = new Uint8Array(await file.arrayBuffer());
    const feed = bytes.indexOf(0x0a);
    head = JSON.parse(new TextDecoder().decode(bytes.subarray(0, feed)));
    const body = bytes.slice(feed + 1);
    chunks = Array.from({ length: Math.ceil(body.length / STEP) }, (_, i) =>
      body.slice(i * STEP, (i + 1) * STEP),
    );
  });

  const rebuilt = (parts: readonly Uint8Array<ArrayBuffer>[]): Blob => {
    const bodyBytes = parts.reduce((sum, part) => sum + part.length, 0);
    return new Blob([`${JSON.stringify({ ...head, bodyBytes })}\n`, ...parts]);
  };

  it('has at least three and reads back as it was written', async () => {
    expect(chunks.length).toBeGreaterThanOrEqual(3);
    expect(await readAll(rebuilt(chunks))).toEqual(lines);
  });

  const wrongs: readonly [string, (c: typeof chunks) => readonly Uint8Array<ArrayBuffer>[]][] = [
    ['without its last chunk', (c) => c.slice(0, -1)],
    ['without its first chunk', (c) => c.slice(1)],
    ['without a chunk in the middle', (c) => [...c.slice(0, 1), ...c.slice(2)]],
    ['with two chunks swapped', (c) => [...c.slice(1, 2), ...c.slice(0, 1), ...c.slice(2)]],
    ['with a chunk doubled', (c) => [...c.slice(0, 1), ...c]],
    [
      'with its last chunk cut at 16 bytes',
      (c) => [...c.slice(0, -1), ...c.slice(-1).map((l) => l.slice(0, 16))],
    ],
    ['with no chunk but the last', (c) => c.slice(-1)],
  ];
  it.each(wrongs)('is refused %s', async (_, change) => {
    const read = readAll(rebuilt(change(chunks)));
    await expect(read).rejects.toThrow(BackupFault);
    await expect(read).rejects.toThrow('backup-altered');
  });

  it('gives another file each time, so that equal contents do not show', async () => {
    const other = await sealLines(crypto, { passphrase, lines: withFeeds() });
    const [a, b] = await Promise.all([file.arrayBuffer(), other.arrayBuffer()]);
    expect(Buffer.from(a).subarray(-64)).not.toEqual(Buffer.from(b).subarray(-64));
  });
});
