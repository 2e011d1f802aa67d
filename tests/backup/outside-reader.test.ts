/**
 * A backup opened by somebody else: node:crypto and node:zlib alone, step by step as shared/guides/backup-file.md
 * tells it. Nothing of the app's own cipher, format or base64 is used to read.
 */
import { createDecipheriv, createHash, hkdfSync, pbkdf2Sync } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { gunzipSync } from 'node:zlib';
import { beforeAll, describe, expect, it } from 'vitest';
import { makeBackup } from '../../src/runtime/backup/backup.ts';
import { filledJournal, must } from './filled-journal.ts';

const PASSPHRASE = 'Zwölf Möwen über der Mole';
const CASES = 40;

let bytes: Buffer;
let lines: readonly string[];

/** Steps 1 to 6 of the description. */
function openedBy(file: Buffer, passphrase: string): Buffer {
  const feed = file.indexOf(0x0a);
  const header = JSON.parse(file.subarray(0, feed).toString('utf8'));
  const salt = Buffer.from(header.salt, 'base64');
  const typed = Buffer.from(passphrase.normalize('NFKC'), 'utf8');
  const stretched = pbkdf2Sync(typed, salt, header.iterations, 32, 'sha256');
  const part = (info: string, length: number) =>
    Buffer.from(hkdfSync('sha256', stretched, Buffer.alloc(0), info, length));
  expect(part('lutewatch-backup check', 8).toString('base64')).toBe(header.check);
  const key = part('lutewatch-backup key', 32);
  const { bodyBytes, ...bound } = header;
  const sorted = Object.fromEntries(
    Object.keys(bound)
      .sort()
      .map((k) => [k, bound[k]]),
  );
  const additional = Buffer.from(JSON.stringify(sorted), 'utf8');
  const body = file.subarray(feed + 1);
  expect(body.length).toBe(bodyBytes);
  const step = header.chunkBytes + 16;
  const plain: Buffer[] = [];
  for (let n = 0; n * step < body.length; n += 1) {
    const chunk = body.subarray(n * step, (n + 1) * step);
    const number = Buffer.alloc(5);
    number.writeUInt32BE(n);
    number[4] = (n + 1) * step >= body.length ? 1 : 0;
    const nonce = Buffer.concat([Buffer.from(header.noncePrefix, 'base64'), number]);
    const decipher = createDecipheriv('aes-256-gcm', key, nonce);
    decipher.setAAD(additional);
    decipher.setAuthTag(chunk.subarray(-16));
    plain.push(decipher.update(chunk.subarray(0, -16)), decipher.final());
  }
  const packed = Buffer.concat(plain);
  return header.compression === 'gzip' ? gunzipSync(packed) : packed;
}

beforeAll(async () => {
  const { journal } = await filledJournal({ cases: CASES });
  const made = must(await makeBackup({ journal, crypto, passphrase: PASSPHRASE }));
  bytes = Buffer.from(await made.file.arrayBuffer());
  lines = openedBy(bytes, PASSPHRASE).toString('utf8').trimEnd().split('\n');
});

describe('a backup read without this app', () => {
  it('begins and ends as it is described, and its sum is that of the lines between', () => {
    expect(JSON.parse(lines[0] ?? '')).toEqual({
      record: 'begin',
      contents: 'lutewatch-backup',
      version: 1,
    });
    const end = JSON.parse(lines.at(-1) ?? '');
    const hash = createHash('sha256');
    for (const line of lines.slice(1, -1)) hash.update(`${line}\n`);
    expect(end).toMatchObject({ record: 'end', sha256: hash.digest('hex') });
    const kinds = lines.map((line) => JSON.parse(line).record);
    expect(kinds.filter((k) => k === 'entry')).toHaveLength(end.counts.entries);
    expect(kinds.filter((k) => k === 'document')).toHaveLength(end.counts.documents);
    expect(kinds.filter((k) => k === 'tombstone')).toHaveLength(end.counts.tombstones);
    expect(end.counts.entries).toBeGreaterThan(CASES);
  });

  it('holds entries whose hashes can be followed by hand', () => {
    let prev = '';
    let links = 0;
    for (const { record, body } of lines.map((line) => JSON.parse(line))) {
      if (record !== 'entry') continue;
      if (body.seq === 0) prev = '0'.repeat(64);
      expect(body.prev).toBe(prev);
      prev = body.hash;
      links += 1;
    }
    expect(links).toBeGreaterThan(CASES);
  });

  it('is refused by a flipped byte of its body', () => {
    const hurt = Buffer.from(bytes);
    hurt[hurt.length - 40] = (hurt[hurt.length - 40] ?? 0) ^ 1;
    expect(() => openedBy(hurt, PASSPHRASE)).toThrow();
  });
});

describe('the description', () => {
  const text = readFileSync(new URL('../../shared/guides/backup-file.md', import.meta.url), 'utf8');
  it('names what the file says of itself', () => {
    const header = JSON.parse(bytes.subarray(0, bytes.indexOf(0x0a)).toString('utf8'));
    for (const key of Object.keys(header)) expect(text).toContain(`\`${key}\``);
    expect(text).toContain(String(header.iterations).replace(/(\d{3})$/, ',$1'));
    expect(text).toContain(`${header.chunkBytes.toLocaleString('en')} bytes`);
  });
});
