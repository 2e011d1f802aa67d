/**
 * A backup holds everything, opens only with its passphrase, and a restore loses and doubles
 * nothing. The format is read a second time with Node's own cryptography and gzip, after its
 * description alone.
 */
import { createDecipheriv, hkdfSync, pbkdf2Sync, webcrypto } from 'node:crypto';
import { gunzipSync } from 'node:zlib';
import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import type { Problem } from '../../src/base/problem.ts';
import type { Result } from '../../src/base/result.ts';
import { canonicalText } from '../../src/protocol/canonical-text.ts';
import { makeBackup, restoreBackup } from '../../src/runtime/backup/backup.ts';
import { contentsSum } from '../../src/runtime/backup/backup-lines.ts';
import type { CryptoLike } from '../../src/runtime/lead/lead-passphrase.ts';
import type { Journal } from '../../src/storage/journal-types.ts';
import { opening, pressOf, stampAt } from '../storage/sample-case.ts';
import { emptyJournal, type Filled, filledJournal, must } from './filled-journal.ts';

const PASSPHRASE = 'ebb tide over quiet sand';
const crypto: CryptoLike = {
  subtle: globalThis.crypto.subtle,
  getRandomValues: (array) => globalThis.crypto.getRandomValues(array),
};

const codeOf = (result: Result<unknown, Problem>): string => (result.ok ? 'ok' : result.error.code);

async function backupOf(journal: Journal): Promise<Blob> {
  return must(await makeBackup({ journal, crypto, passphrase: PASSPHRASE })).file;
}

const restore = (into: Filled, file: Blob, passphrase = PASSPHRASE) =>
  restoreBackup({ ...into, crypto, file, passphrase });

const bytesOf = async (file: Blob): Promise<Uint8Array<ArrayBuffer>> =>
  new Uint8Array(await file.arrayBuffer());

describe('a backup of 1,000 cases', () => {
  let full: Filled;
  let file: Blob;
  let sum: string;

  beforeAll(async () => {
    full = await filledJournal({ cases: 1000 });
    file = await backupOf(full.journal);
    sum = await contentsSum(full.journal);
  });

  it('restored into an empty tablet has the same sum, and again after a second restore', async () => {
    const target = await emptyJournal();
    const first = must(await restore(target, file));
    expect(first).toMatchObject({ casesAdded: 980, casesSame: 0, setApart: 0 });
    expect(first.found.documents).toBe(100);
    expect(first.tombstonesTaken).toBe(20);
    expect(await contentsSum(target.journal)).toBe(sum);
    const second = must(await restore(target, file));
    expect(second).toMatchObject({ casesAdded: 0, casesSame: 980, documentsTaken: 0, setApart: 0 });
    expect(await contentsSum(target.journal)).toBe(sum);
  });

  it('restored over a tablet that has some of it and something more keeps both', async () => {
    const target = await emptyJournal();
    const { journal, epoch } = target;
    const own = [opening('own'), ...pressOf(4, 1)];
    must(await journal.append({ caseId: 'own', epoch, recorded: own }));
    const known = must(await full.journal.read('case-00003')).entries;
    must(await journal.adopt({ caseId: 'case-00003', epoch, entries: known.slice(0, 2) }));
    const report = must(await restore(target, file));
    expect(report).toMatchObject({ casesAdded: 979, casesContinued: 1, casesDiffering: 0 });
    expect(must(await journal.read('own')).entries).toHaveLength(own.length);
    expect(must(await journal.read('case-00003')).entries).toEqual(known);
  });

  it('can be read with other cryptography after its description alone', async () => {
    const bytes = await bytesOf(file);
    const feed = bytes.indexOf(0x0a);
    const head = JSON.parse(new TextDecoder().decode(bytes.subarray(0, feed)));
    const { bodyBytes, ...bound } = head;
    const salt = Buffer.from(head.salt, 'base64');
    const root = pbkdf2Sync(PASSPHRASE.normalize('NFKC'), salt, head.iterations, 32, 'sha256');
    const key = Buffer.from(hkdfSync('sha256', root, '', 'lutewatch-backup key', 32));
    const check = Buffer.from(hkdfSync('sha256', root, '', 'lutewatch-backup check', 8));
    expect(check.toString('base64')).toBe(head.check);
    expect(head.iterations).toBeGreaterThanOrEqual(600_000);
    const body = bytes.subarray(feed + 1);
    expect(body.length).toBe(bodyBytes);
    const plain: Buffer[] = [];
    const step = head.chunkBytes + 16;
    for (let at = 0, chunk = 0; at < body.length; at += step, chunk += 1) {
      const sealed = body.subarray(at, at + step);
      const nonce = Buffer.alloc(12);
      Buffer.from(head.noncePrefix, 'base64').copy(nonce);
      nonce.writeUInt32BE(chunk, 7);
      nonce.writeUInt8(at + step >= body.length ? 1 : 0, 11);
      const decipher = createDecipheriv('aes-256-gcm', key, nonce);
      decipher.setAAD(Buffer.from(canonicalText(bound)));
      decipher.setAuthTag(sealed.subarray(-16));
      plain.push(decipher.update(sealed.subarray(0, -16)), decipher.final());
    }
    expect(head.compression).toBe('gzip');
    const lines = gunzipSync(Buffer.concat(plain)).toString('utf8').trimEnd().split('\n');
    const records = lines.map((line) => JSON.parse(line));
    expect(records[0]).toEqual({ record: 'begin', contents: 'lutewatch-backup', version: 1 });
    expect(records.at(-1)).toMatchObject({ record: 'end', sha256: sum });
    expect(new Set(records.flatMap((r) => (r.record === 'entry' ? r.body.caseId : []))).size).toBe(
      980,
    );
    const digest = await webcrypto.subtle.digest(
      'SHA-256',
      Buffer.from(
        lines
          .slice(1, -1)
          .map((line) => `${line}\n`)
          .join(''),
      ),
    );
    expect(Buffer.from(digest).toString('hex')).toBe(sum);
  });
});

describe('a file that is not as it was written', () => {
  let small: Filled;
  let bytes: Uint8Array<ArrayBuffer>;
  let target: Filled;
  let before: string;

  beforeAll(async () => {
    small = await filledJournal({ cases: 12, seed: 7 });
    bytes = await bytesOf(await backupOf(small.journal));
    target = await filledJournal({ cases: 3, seed: 99 });
    before = await contentsSum(target.journal);
  });

  const refusedAs = async (file: Blob, passphrase = PASSPHRASE): Promise<string> => {
    const result = await restore(target, file, passphrase);
    expect(await contentsSum(target.journal)).toBe(before);
    if (!result.ok) expect(result.error.came.split('\n')).toHaveLength(1);
    return codeOf(result);
  };

  it('does not open with another passphrase', async () => {
    const file = new Blob([bytes]);
    expect(await refusedAs(file, 'ebb tide over quiet Sand')).toBe('backup-wrong-passphrase');
    expect(await refusedAs(file, '')).toBe('backup-wrong-passphrase');
  });

  it('opens with the same passphrase typed on a keyboard that composes otherwise', async () => {
    const other = await emptyJournal();
    const umlaut = 'Wellenbr\u00fcche am Kai';
    const made = must(await makeBackup({ ...small, crypto, passphrase: umlaut }));
    expect(codeOf(await restore(other, made.file, umlaut.normalize('NFD')))).toBe('ok');
  });

  it('is refused as cut short wherever it was cut', async () => {
    const feed = bytes.indexOf(0x0a);
    for (const length of [feed + 1, feed + 2, feed + 17, bytes.length - 16, bytes.length - 1]) {
      expect(await refusedAs(new Blob([bytes.slice(0, length)]))).toBe('backup-cut-short');
    }
    expect(await refusedAs(new Blob([bytes.slice(0, feed)]))).toBe('backup-not-one');
    expect(await refusedAs(new Blob([]))).toBe('backup-not-one');
  });

  it('is refused when something stands behind its end', async () => {
    expect(await refusedAs(new Blob([bytes, 'x']))).toBe('backup-altered');
  });

  it('is refused for any flipped bit', async () => {
    await fc.assert(
      fc.asyncProperty(fc.nat(bytes.length - 1), fc.nat(7), async (at, bit) => {
        const flipped = bytes.slice();
        flipped[at] = (flipped[at] ?? 0) ^ (1 << bit);
        expect(await refusedAs(new Blob([flipped]))).not.toBe('ok');
      }),
      { numRuns: 40, seed: 6 },
    );
  });

  it('is refused for any flipped bit of its first line', async () => {
    const feed = bytes.indexOf(0x0a);
    for (let at = 0; at <= feed; at += 9) {
      const flipped = bytes.slice();
      flipped[at] = (flipped[at] ?? 0) ^ 1;
      expect(await refusedAs(new Blob([flipped]))).not.toBe('ok');
    }
  });

  // File API (W3C), reading a blob: NotReadableError when the file changed or went away meanwhile.
  it.each([0, 1])(
    'is refused in one line when it can no longer be read, after %i reads',
    async (n) => {
      const file = new Blob([bytes]);
      const slice = file.slice.bind(file);
      let reads = 0;
      file.slice = (from, to) => {
        const part = slice(from, to);
        reads += 1;
        if (reads > n)
          part.arrayBuffer = () => Promise.reject(new DOMException('', 'NotReadableError'));
        return part;
      };
      expect(await refusedAs(file)).toBe('backup-unreadable');
    },
  );

  it('is refused in the words of its kind when it is none or is newer', async () => {
    expect(await refusedAs(new Blob(['{"format":"other"}\n']))).toBe('backup-not-one');
    expect(await refusedAs(new Blob(['no JSON\n']))).toBe('backup-not-one');
    const newer = '{"format":"lutewatch-backup","formatVersion":2}\n';
    expect(await refusedAs(new Blob([newer]))).toBe('backup-newer');
  });
});

describe('merging', () => {
  it('lets the higher version of a document win and keeps the one that gave way', async () => {
    const here = await emptyJournal();
    const there = await emptyJournal();
    const put = (at: Filled, value: unknown) =>
      at.journal.documents.put({ kind: 'scanner', id: 'm', value, epoch: at.epoch });
    must(await put(here, 'first here'));
    must(await put(there, 'first there'));
    must(await put(there, 'second there'));
    must(await restore(here, await backupOf(there.journal)));
    expect(must(await here.journal.documents.get('scanner', { id: 'm' }))).toBe('second there');
    const apart = must(await here.journal.documents.list('set-apart'));
    expect(apart.map((d) => d.value)).toEqual([
      { kind: 'scanner', id: 'm', value: 'first here', version: 1 },
    ]);
    must(await put(here, 'third here'));
    must(await put(here, 'fourth here'));
    must(await restore(here, await backupOf(there.journal)));
    expect(must(await here.journal.documents.get('scanner', { id: 'm' }))).toBe('fourth here');
  });

  it('keeps both of two changes with the same version', async () => {
    const here = await emptyJournal();
    const there = await emptyJournal();
    for (const [at, value] of [
      [here, 'here'],
      [there, 'there'],
    ] as const) {
      const { journal, epoch } = at;
      must(await journal.documents.put({ kind: 'scanner', id: 'm', value, epoch }));
    }
    const file = await backupOf(there.journal);
    expect(must(await restore(here, file)).setApart).toBe(1);
    expect(must(await restore(here, file)).setApart).toBe(0);
    expect(must(await here.journal.documents.get('scanner', { id: 'm' }))).toBe('here');
    expect(must(await here.journal.documents.list('set-apart'))).toHaveLength(1);
  });

  it('takes the settings of another tablet but for what was measured and heard here', async () => {
    const here = await emptyJournal();
    const there = await emptyJournal();
    const put = (at: Filled, value: unknown) =>
      at.journal.documents.put({ kind: 'settings', id: 'this-tablet', value, epoch: at.epoch });
    const heard = { heardAtMs: 5, heardBy: 'dentist', heardVolume: 0.6 };
    must(await put(there, { clinic: 'Harbour', pxPerMm: 9 }));
    must(
      await put(there, {
        clinic: 'Harbour',
        notation: 'fdi',
        tablet: 'there',
        pxPerMm: 9,
        ...heard,
      }),
    );
    const file = await backupOf(there.journal);
    const kept = async () =>
      must(await here.journal.documents.get('settings', { id: 'this-tablet' }));
    must(await restore(here, file));
    const unheard = { heardAtMs: null, heardBy: '', heardVolume: 0 };
    const nothing = { tablet: '', pxPerMm: null, ...unheard, farViewOf: '' };
    expect(await kept()).toEqual({ clinic: 'Harbour', notation: 'fdi', ...nothing });
    expect(must(await restore(here, file))).toMatchObject({ documentsTaken: 0, setApart: 0 });
    const own = {
      zone: 'Asia/Kathmandu',
      tablet: 'here',
      pxPerMm: 4,
      heardAtMs: 7,
      heardBy: 'assistant',
      heardVolume: 0.9,
      farViewOf: 'chair-1',
    };
    const filing = { chartSystem: 'urn:oid:2.999', openingHours: ['8-12'] };
    must(await put(here, { clinic: 'Quay', ...own, ...filing }));
    must(await put(there, { clinic: 'Harbour', pxPerMm: 9, ...heard }));
    const elsewhere = { tablet: 'there', farViewOf: 'chair-2' };
    must(await put(there, { clinic: 'Harbour 2', ...elsewhere, pxPerMm: 9, ...heard }));
    must(await restore(here, await backupOf(there.journal)));
    // The backup is of a version that knew no zone of the clinic, and nothing of its files: those here stay.
    expect(await kept()).toEqual({ clinic: 'Harbour 2', ...own, ...filing });
    const said = { zone: 'Europe/Lisbon', chartSystem: '', openingHours: ['', '9-17'] };
    must(await put(there, { clinic: 'Harbour 2', ...said, ...heard }));
    must(await restore(here, await backupOf(there.journal)));
    expect(await kept()).toMatchObject({ ...said, tablet: 'here' });
  });

  it('does not let a file decide who may open the desk of a tablet that has a passphrase', async () => {
    const here = await emptyJournal();
    const there = await emptyJournal();
    const put = (at: Filled, kind: string, value: unknown) =>
      at.journal.documents.put({ kind, id: 'this-tablet', value, epoch: at.epoch });
    for (const value of ['a', 'b', 'c']) {
      must(await put(there, 'lead-passphrase', value));
      must(await put(there, 'lead-attempts', value));
    }
    const file = await backupOf(there.journal);
    must(await put(here, 'lead-passphrase', 'own'));
    must(await put(here, 'lead-attempts', 'own'));
    expect(must(await restore(here, file))).toMatchObject({ documentsTaken: 0, setApart: 0 });
    const values = must(await here.journal.documents.listAll()).map((d) => d.value);
    expect(values).toEqual(['own', 'own']);
    const bare = await emptyJournal();
    expect(must(await restore(bare, file)).documentsTaken).toBe(2);
  });

  it('does not bring back what was deleted here, nor delete what is kept here', async () => {
    const source = await filledJournal({ cases: 4, seed: 3 });
    const file = await backupOf(source.journal);
    const target = await emptyJournal();
    must(await restore(target, file));
    const stamp = stampAt(0);
    const { journal, epoch } = target;
    const gone = { caseId: 'case-00001', epoch, stamp, by: null, reason: 'kept long enough' };
    must(await journal.deleteCase(gone));
    expect(must(await restore(target, file))).toMatchObject({ casesDeleted: 1, casesSame: 3 });
    expect(must(await journal.read('case-00001')).entries).toEqual([]);
    must(await restore(source, await backupOf(journal)));
    expect(must(await source.journal.read('case-00001')).entries.length).toBeGreaterThan(0);
  });

  it('keeps a case that differs under the same name apart, once', async () => {
    const here = await emptyJournal();
    const there = await emptyJournal();
    for (const [at, more] of [
      [here, 1],
      [there, 3],
    ] as const) {
      const { journal, epoch } = at;
      must(await journal.append({ caseId: 'c', epoch, recorded: [opening('c')] }));
      must(await journal.append({ caseId: 'c', epoch, recorded: pressOf(more, 1) }));
    }
    must(
      await here.journal.append({
        caseId: 'c',
        epoch: here.epoch,
        recorded: [{ ...pressOf(1, 2)[0], seq: 2, press: 2, by: 'p9' } as never],
      }),
    );
    const file = await backupOf(there.journal);
    const report = must(await restore(here, file));
    expect(report).toMatchObject({ casesDiffering: 1, setApart: 1 });
    expect(must(await restore(here, file)).setApart).toBe(0);
    expect(must(await here.journal.read('c')).entries).toHaveLength(3);
  });

  it('asks for a passphrase of twelve characters', async () => {
    const { journal } = await emptyJournal();
    const made = await makeBackup({ journal, crypto, passphrase: 'elevenchars' });
    expect(codeOf(made)).toBe('passphrase-short');
  });
});
