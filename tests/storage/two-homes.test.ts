import { IDBFactory } from 'fake-indexeddb';
import 'fake-indexeddb/auto';
import { deleteDB, openDB } from 'idb';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { present } from '../../src/base/assert.ts';
import { createIndexedDbJournal } from '../../src/storage/indexed-db-journal.ts';
import type { Journal, WriterStart } from '../../src/storage/journal-types.ts';
import { DATABASE_VERSION, MIGRATIONS } from '../../src/storage/migrations.ts';
import { segmentName } from '../../src/storage/second-home.ts';
import { createTabChannel } from '../../src/storage/tab-channel.ts';
import { MemoryHome } from './memory-home.ts';
import { opening, pressOf, stampAt, wholeCase } from './sample-case.ts';

const NAME = 'two-homes';
let home: MemoryHome;
let open: Journal[] = [];

beforeEach(() => {
  globalThis.indexedDB = new IDBFactory();
  home = new MemoryHome();
});

afterEach(async () => {
  for (const journal of open) await journal.close();
  open = [];
});

async function start(): Promise<{ journal: Journal; started: WriterStart }> {
  const journal = createIndexedDbJournal({ name: NAME, home, channel: createTabChannel(NAME) });
  open.push(journal);
  const started = await journal.startWriting();
  if (!started.ok) throw new Error(JSON.stringify(started.error));
  return { journal, started: started.value };
}

async function stored(journal: Journal, caseId: string): Promise<readonly number[]> {
  const reading = await journal.read(caseId);
  if (!reading.ok) throw new Error(JSON.stringify(reading.error));
  expect(reading.value.verdict.firstBad).toBeNull();
  return reading.value.entries.map((entry) => entry.seq);
}

/** Two cases, a document and a tombstone, over two runs of the program. */
async function fill(): Promise<void> {
  const first = await start();
  const { epoch } = first.started;
  await first.journal.append({ caseId: 'c1', epoch, recorded: wholeCase('c1', 20) });
  await first.journal.append({ caseId: 'gone', epoch, recorded: [opening('gone')] });
  await first.journal.documents.put({ kind: 'protocol', id: 'p', value: { n: 1 }, epoch });
  await first.journal.close();
  const second = await start();
  const again = second.started.epoch;
  await second.journal.append({ caseId: 'c1', epoch: again, recorded: pressOf(5, 20) });
  await second.journal.append({ caseId: 'c2', epoch: again, recorded: wholeCase('c2', 7) });
  await second.journal.documents.put({ kind: 'protocol', id: 'p', value: { n: 2 }, epoch: again });
  await second.journal.deleteCase({
    caseId: 'gone',
    epoch: again,
    stamp: stampAt(0),
    by: null,
    reason: 'kept elsewhere',
  });
  await second.journal.close();
}

async function expectAll(journal: Journal): Promise<void> {
  expect(await stored(journal, 'c1')).toEqual(Array.from({ length: 25 }, (_, i) => i));
  expect(await stored(journal, 'c2')).toEqual([0, 1, 2, 3, 4, 5, 6]);
  expect(await stored(journal, 'gone')).toEqual([]);
  expect(await journal.documents.get('protocol', { id: 'p' })).toEqual({
    ok: true,
    value: { n: 2 },
  });
  const stones = await journal.listTombstones();
  expect(stones.ok && stones.value.map((stone) => stone.caseId)).toEqual(['gone']);
}

const drop = async (store: 'entries' | 'cases', key: IDBValidKey | IDBKeyRange): Promise<void> => {
  const database = await openDB(NAME);
  await database.delete(store, key);
  database.close();
};

describe('the two homes', () => {
  it('are not read again while nothing changed', async () => {
    await fill();
    await (await start()).journal.close();
    home.reads = 0;
    const { started } = await start();
    expect(home.reads).toBe(0);
    expect(started).toMatchObject({ copies: 2, report: { rebuilt: null, entries: 0 } });
  });

  it('do not take a case that was written in two runs for one that the file lacks', async () => {
    for (const [from, count] of [
      [1, 4],
      [5, 3],
    ] as const) {
      const { journal, started } = await start();
      expect(started.report).toMatchObject({ rebuilt: null, entries: 0 });
      const { epoch } = started;
      if (from === 1) await journal.append({ caseId: 'c1', epoch, recorded: [opening('c1')] });
      await journal.append({ caseId: 'c1', epoch, recorded: pressOf(count, from) });
      await journal.close();
    }
    expect((await start()).started.report).toMatchObject({ rebuilt: null, entries: 0 });
  });

  it('give a wiped database everything back, with a higher epoch than ever', async () => {
    await fill();
    await deleteDB(NAME);
    const { journal, started } = await start();
    expect(started.report).toMatchObject({ rebuilt: 'database', conflicts: 0, unreadable: 0 });
    expect(started.epoch).toBeGreaterThan(2);
    await expectAll(journal);
    await journal.close();
    expect((await start()).started.report.rebuilt).toBeNull();
  });

  it('give wiped files everything back', async () => {
    await fill();
    home.files.clear();
    const { journal, started } = await start();
    expect(started.report).toMatchObject({ rebuilt: 'file', conflicts: 0 });
    await journal.close();
    await deleteDB(NAME);
    const rebuilt = await start();
    expect(rebuilt.started.report.rebuilt).toBe('database');
    await expectAll(rebuilt.journal);
  });

  it('notice one old file that is missing or shorter, and write its content again', async () => {
    await fill();
    await (await start()).journal.close();
    const [oldest] = [...home.files.keys()].sort();
    const name = present(oldest, 'a file');
    const bytes = present(home.files.get(name), 'its bytes');
    home.files.set(name, bytes.subarray(0, bytes.length - 10));
    const { journal, started } = await start();
    expect(started.report).toMatchObject({ rebuilt: 'file', unreadable: 1 });
    await journal.close();
    await deleteDB(NAME);
    await expectAll((await start()).journal);
  });

  it('complete a database that lost the end of a case', async () => {
    await fill();
    const before = await openDB(NAME);
    const summary: unknown = await before.get('cases', 'c2');
    before.close();
    await drop('entries', IDBKeyRange.bound(['c2', 4], ['c2', 6]));
    const database = await openDB(NAME);
    const entry: unknown = await database.get('entries', ['c2', 3]);
    expect(entry).toMatchObject({ seq: 3 });
    const head = typeof entry === 'object' && entry !== null && 'hash' in entry ? entry.hash : '';
    await database.put('cases', { ...(summary ?? {}), entries: 4, head });
    database.close();
    const { journal, started } = await start();
    expect(started.report).toMatchObject({ rebuilt: 'database', entries: 3 });
    await expectAll(journal);
  });

  it('complete a file that a kill between the two writes left one press short', async () => {
    const { journal, started } = await start();
    const { epoch } = started;
    await journal.append({ caseId: 'c1', epoch, recorded: wholeCase('c1', 3) });
    const name = segmentName({ epoch, part: 0 });
    const kept = present(home.files.get(name), 'the file');
    await journal.append({ caseId: 'c1', epoch, recorded: pressOf(2, 3) });
    home.files.set(name, kept);
    await journal.close();
    const again = await start();
    expect(again.started.report).toMatchObject({ rebuilt: 'file', entries: 2 });
    await again.journal.close();
    await deleteDB(NAME);
    expect(await stored((await start()).journal, 'c1')).toEqual([0, 1, 2, 3, 4]);
  });

  it('keep both when they disagree about the same place, and say so', async () => {
    await fill();
    await deleteDB(NAME);
    const files = home;
    home = new MemoryHome();
    const other = await start();
    await other.journal.append({ caseId: 'c2', epoch: 1, recorded: [opening('c2')] });
    await other.journal.append({ caseId: 'c2', epoch: 1, recorded: pressOf(2, 1) });
    await other.journal.close();
    home = files;
    const { journal, started } = await start();
    expect(started.report.conflicts).toBeGreaterThan(0);
    const apart = await journal.listSetApart();
    const seqs = apart.ok ? apart.value.filter((one) => one.caseId === 'c2') : [];
    expect(seqs.map((one) => one.seq).sort()).toEqual([0, 1, 2, 3, 4, 5, 6]);
    expect(await stored(journal, 'c2')).toEqual([0, 1, 2]);
    expect(await stored(journal, 'c1')).toHaveLength(25);
  });

  it('leave nothing of a deleted case in the files', async () => {
    const { journal, started } = await start();
    const { epoch } = started;
    await journal.append({ caseId: 'gone', epoch, recorded: [opening('gone')] });
    await journal.append({ caseId: 'c1', epoch, recorded: wholeCase('c1', 3) });
    await journal.append({ caseId: 'gone', epoch, recorded: pressOf(2, 1) });
    await journal.deleteCase({ caseId: 'gone', epoch, stamp: stampAt(0), by: null, reason: 'r' });
    await journal.append({ caseId: 'c1', epoch, recorded: pressOf(2, 3) });
    await journal.close();
    const text = [...home.files.values()].map((bytes) => new TextDecoder().decode(bytes)).join('');
    expect(text).not.toContain('"caseId":"gone","epoch":1,"event"');
    expect(text).toContain('"record":"tombstone"');
    await deleteDB(NAME);
    const rebuilt = await start();
    expect(await stored(rebuilt.journal, 'c1')).toEqual([0, 1, 2, 3, 4]);
    expect(await stored(rebuilt.journal, 'gone')).toEqual([]);
  });

  it('keep taking presses in one home when the files fail, and catch up at the next start', async () => {
    const { journal, started } = await start();
    const { epoch } = started;
    await journal.append({ caseId: 'c1', epoch, recorded: [opening('c1')] });
    home.failure = 'disk full';
    const ack = await journal.append({ caseId: 'c1', epoch, recorded: pressOf(2, 1) });
    expect(ack).toMatchObject({ ok: true, value: { copies: 1 } });
    let problem: string | null = null;
    journal.onStatus((status) => {
      problem = status.problem;
    });
    expect(problem).toBe('file-lost');
    await journal.close();
    home.failure = null;
    expect((await start()).started.report).toMatchObject({ rebuilt: 'file', entries: 2 });
  });

  it('start with one copy when the files cannot even be listed', async () => {
    await fill();
    home.failure = 'no access';
    const { journal, started } = await start();
    expect(started.copies).toBe(1);
    await expectAll(journal);
  });
});

describe('the layout of the database', () => {
  it('has numbered changes without holes', () => {
    expect(MIGRATIONS.map((step) => step.to)).toEqual(MIGRATIONS.map((_, i) => i + 1));
    expect(DATABASE_VERSION).toBe(MIGRATIONS.length);
  });

  it('of a newer program is refused for reading and for writing, and left alone', async () => {
    const newer = await openDB(NAME, DATABASE_VERSION + 1);
    newer.close();
    const journal = createIndexedDbJournal({ name: NAME, home, channel: createTabChannel(NAME) });
    open.push(journal);
    for (const opened of [await journal.open(), await journal.startWriting()]) {
      expect(opened).toMatchObject({ ok: false, error: { code: 'newer-format' } });
    }
  });

  it('is not made by a reader', async () => {
    const journal = createIndexedDbJournal({ name: NAME, home, channel: createTabChannel(NAME) });
    open.push(journal);
    expect(await journal.open()).toEqual({ ok: true, value: null });
    expect(await journal.listCases()).toEqual({ ok: true, value: [] });
    expect(await indexedDB.databases()).toEqual([]);
  });
});
