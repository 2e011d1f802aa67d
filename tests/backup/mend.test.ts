/**
 * A backup brought back over a tablet whose copy was damaged makes it whole again: what holds in the
 * file takes the place of what no longer holds here, and what was damaged is kept beside it.
 */
import { IDBFactory } from 'fake-indexeddb';
import 'fake-indexeddb/auto';
import { openDB } from 'idb';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { makeBackup, restoreBackup } from '../../src/runtime/backup/backup.ts';
import { backupLines } from '../../src/runtime/backup/backup-lines.ts';
import { readApart } from '../../src/runtime/backup/set-apart.ts';
import { CasesList } from '../../src/runtime/cases/cases-list.ts';
import { entryHash } from '../../src/storage/hash-chain.ts';
import { createIndexedDbJournal } from '../../src/storage/indexed-db-journal.ts';
import type { Journal, WriterStart } from '../../src/storage/journal-types.ts';
import { createTabChannel } from '../../src/storage/tab-channel.ts';
import { manualClock } from '../runtime/manual-clock.ts';
import { MemoryHome } from '../storage/memory-home.ts';
import { pressOf, recorded, wholeCase } from '../storage/sample-case.ts';
import { must } from './filled-journal.ts';

const NAME = 'mend';
const PASSPHRASE = 'ebb tide over quiet sand';
let journal: Journal;
let home: MemoryHome;
let epoch: number;
let file: Blob;
let whole: readonly unknown[];

async function begin(): Promise<WriterStart> {
  journal = createIndexedDbJournal({ name: NAME, home, channel: createTabChannel(NAME) });
  const started = must(await journal.startWriting());
  epoch = started.epoch;
  return started;
}

beforeEach(async () => {
  globalThis.indexedDB = new IDBFactory();
  home = new MemoryHome();
  await begin();
  must(await journal.append({ caseId: 'c', epoch, recorded: wholeCase('c', 12) }));
  whole = must(await journal.read('c')).entries;
  file = must(await makeBackup({ journal, crypto, passphrase: PASSPHRASE })).file;
});

afterEach(() => journal.close());

const restore = async () =>
  must(await restoreBackup({ journal, epoch, crypto, file, passphrase: PASSPHRASE }));

/** Changes what is stored behind the program's back. */
async function damage(work: (database: Awaited<ReturnType<typeof openDB>>) => Promise<unknown>) {
  const database = await openDB(NAME);
  await work(database);
  database.close();
}

const withWords = (entry: unknown): unknown => ({ ...Object(entry), by: 'somebody else' });
/** Another entry that fits its own hash, but not the one before it. */
const replaced = (entry: unknown): unknown => {
  const open = { ...Object(entry), by: 'somebody else', prev: 'cd'.repeat(32) };
  return { ...open, hash: entryHash(open) };
};
const withHash = (entry: unknown): unknown => ({ ...Object(entry), hash: 'ab'.repeat(32) });

describe('a restore over a damaged case', () => {
  it.each([
    ['an entry was altered', withWords],
    ['the hash of an entry was altered', withHash],
    ['another entry was put in its place', replaced],
  ])('mends it where %s, once, and keeps what stood there', async (_, change) => {
    const altered = change(whole[5]);
    // The file would give it back at the first reading.
    home.files.clear();
    await damage((database) => database.put('entries', altered));
    expect(must(await journal.read('c')).verdict.goodCount).toBe(5);
    expect(await restore()).toMatchObject({ casesContinued: 1, casesSame: 0 });
    const { entries, verdict } = must(await journal.read('c'));
    expect([entries, verdict.firstBad]).toEqual([whole, null]);
    const apart = must(await journal.listSetApart());
    expect(apart).toMatchObject([{ reason: 'damaged', caseId: 'c', seq: 5, content: altered }]);
    expect(await restore()).toMatchObject({ casesContinued: 0, casesSame: 1 });
    const next = pressOf(1, 12);
    must(await journal.append({ caseId: 'c', epoch, recorded: next }));
    expect(must(await journal.read('c')).verdict).toEqual({ goodCount: 13, firstBad: null });
  });

  it.each([
    ['its end', IDBKeyRange.lowerBound(['c', 7])],
    ['its middle', IDBKeyRange.bound(['c', 3], ['c', 8])],
    ['everything', IDBKeyRange.lowerBound(['c', 0])],
  ])('gives back %s', async (_, lost) => {
    home.files.clear();
    await damage((database) => database.delete('entries', lost));
    expect(must(await journal.read('c')).verdict.firstBad).not.toBeNull();
    expect(must(await journal.damage.read()).cases).toMatchObject([{ caseId: 'c', known: 12 }]);
    expect(await restore()).toMatchObject({ casesContinued: 1 });
    expect(must(await journal.read('c')).entries).toEqual(whole);
    expect(must(await journal.damage.read()).cases).toEqual([]);
  });

  it('mends at a start what the other copy has whole, keeps what was there, and says so', async () => {
    const altered = withWords(whole[5]);
    await damage((database) => database.put('entries', altered));
    await journal.close();
    const { report } = await begin();
    expect(report).toMatchObject({ mended: 1 });
    expect(must(await journal.read('c')).entries).toEqual(whole);
    expect(must(await journal.listSetApart())).toMatchObject([
      { from: 'database', reason: 'damaged', caseId: 'c', seq: 5, content: altered },
    ]);
  });

  it('shows damage that neither copy can mend', async () => {
    await damage((database) => database.put('entries', withWords(whole[5])));
    home.files.clear();
    await journal.close();
    await begin();
    expect(must(await journal.read('c')).verdict.goodCount).toBe(5);
    expect(must(await journal.damage.read()).cases).toMatchObject([{ left: 5 }]);
  });

  it('leaves another entry alone that holds by itself', async () => {
    must(await journal.append({ caseId: 'd', epoch, recorded: wholeCase('d', 3) }));
    const other = must(await makeBackup({ journal, crypto, passphrase: PASSPHRASE })).file;
    await journal.close();
    globalThis.indexedDB = new IDBFactory();
    home = new MemoryHome();
    await begin();
    const own = [...wholeCase('d', 2), recorded(2, { type: 'note-added', words: 'own' })];
    must(await journal.append({ caseId: 'd', epoch, recorded: own }));
    const before = must(await journal.read('d')).entries;
    file = other;
    expect(await restore()).toMatchObject({ casesDiffering: 1 });
    expect(must(await journal.read('d')).entries).toEqual(before);
  });
});

describe('what was set apart', () => {
  it('is told with the case and the reason, whoever set it apart', async () => {
    await damage((database) => database.put('entries', withWords(whole[5])));
    await restore();
    const setApart = (value: unknown, id: string) =>
      journal.documents.put({ kind: 'set-apart', id, value, epoch });
    must(await setApart({ caseId: 'd', entries: [] }, '1'));
    must(await setApart({ caseId: '', content: 'torn' }, '2'));
    must(await setApart({ kind: 'material', id: 'm', value: 1, version: 1 }, '3'));
    expect(must(await readApart(journal)).map(({ caseId, why }) => [caseId, why])).toEqual([
      ['c', 'damaged'],
      ['d', 'other-case'],
      [null, 'apart-before'],
      [null, 'gave-way'],
    ]);
  });
});

describe('a case that is deleted for good', () => {
  it('takes along what was set apart of it, and of no other', async () => {
    must(await journal.append({ caseId: 'd', epoch, recorded: wholeCase('d', 12) }));
    file = must(await makeBackup({ journal, crypto, passphrase: PASSPHRASE })).file;
    const other = must(await journal.read('d')).entries[5];
    await damage((database) => database.put('entries', withWords(whole[5])));
    await damage((database) => database.put('entries', withWords(other)));
    await restore();
    for (const caseId of ['c', 'd']) {
      const value = { caseId, entries: [] };
      must(await journal.documents.put({ kind: 'set-apart', id: caseId, value, epoch }));
    }
    const list = new CasesList({
      journal,
      epoch: () => epoch,
      crypto: null,
      clock: manualClock({ wallMs: 0, monoMs: 0, runId: 'r' }),
      onChanged: async () => undefined,
    });
    const before = must(await makeBackup({ journal, crypto, passphrase: PASSPHRASE })).file;
    const head = must(await journal.listCases()).find((c) => c.caseId === 'c')?.head ?? '';
    must(await list.markExported({ caseId: 'c', head, form: 'json' }));
    must(await list.deleteCase({ caseId: 'c', by: 'AN', reason: 'kept long enough' }));
    const left = async () => must(await readApart(journal)).map((thing) => thing.caseId);
    expect(await left()).toEqual(['d', 'd']);
    file = before;
    expect(await restore()).toMatchObject({ casesDeleted: 1 });
    expect(new Set(await left())).toEqual(new Set(['d']));
  });
});

describe('a backup', () => {
  it('takes along what the two copies could not agree about', async () => {
    await damage((database) => database.put('entries', withWords(whole[5])));
    await restore();
    const lines: string[] = [];
    for await (const line of backupLines(journal)) lines.push(line);
    expect(lines.filter((line) => line.includes('somebody else'))).toHaveLength(1);
    const again = must(await makeBackup({ journal, crypto, passphrase: PASSPHRASE })).file;
    file = again;
    expect(await restore()).toMatchObject({ setApart: 1, casesSame: 1 });
    expect(await restore()).toMatchObject({ setApart: 0, casesSame: 1 });
  });
});
