/** A case of an earlier run that the database lost a part of since: found when somebody opens it. */
import { IDBFactory } from 'fake-indexeddb';
import 'fake-indexeddb/auto';
import { openDB } from 'idb';
import { beforeEach, expect, test } from 'vitest';
import { createIndexedDbJournal } from '../../src/storage/indexed-db-journal.ts';
import type { Journal } from '../../src/storage/journal-types.ts';
import { createTabChannel } from '../../src/storage/tab-channel.ts';
import { MemoryHome } from './memory-home.ts';
import { wholeCase } from './sample-case.ts';

const NAME = 'mend-on-read';
const LENGTH = 12;
let home: MemoryHome;

beforeEach(() => {
  globalThis.indexedDB = new IDBFactory();
  home = new MemoryHome();
});

async function begun(journal: Journal) {
  const started = await journal.startWriting();
  if (!started.ok) throw new Error(JSON.stringify(started.error));
  return started.value;
}

async function start(): Promise<Journal> {
  const journal = createIndexedDbJournal({ name: NAME, home, channel: createTabChannel(NAME) });
  const { epoch } = await begun(journal);
  if (epoch === 1) {
    const recorded = wholeCase('old', LENGTH);
    await journal.append({ caseId: 'old', epoch, recorded });
  }
  return journal;
}

/** Three runs, so that the first one is no longer compared; then the database loses some entries. */
async function hurt(keys: readonly number[]): Promise<Journal> {
  for (let run = 0; run < 3; run += 1) await (await start()).close();
  const database = await openDB(NAME);
  for (const seq of keys) await database.delete('entries', ['old', seq]);
  database.close();
  return start();
}

const read = async (journal: Journal): Promise<readonly number[]> => {
  const reading = await journal.read('old');
  if (!reading.ok) throw new Error(reading.error.code);
  return reading.value.entries.map(({ seq }) => seq);
};

const WHOLE = Array.from({ length: LENGTH }, (_, seq) => seq);

test.each([
  ['its beginning', [0, 1]],
  ['a hole', [5]],
  ['its end', [LENGTH - 1]],
])('lost %s, which the files still have', async (_, keys) => {
  const journal = await hurt(keys);
  expect(await read(journal)).toEqual(WHOLE);
  await journal.close();
  const again = await start();
  expect(await read(again)).toEqual(WHOLE);
  await again.close();
});

test('is told with what is left when the files do not have it either, and they are asked once', async () => {
  const journal = await hurt([5]);
  for (const [name, bytes] of home.files) {
    const lines = new TextDecoder().decode(bytes).split('\n');
    const left = lines.filter((line) => !line.includes('"seq":5,'));
    home.files.set(name, new TextEncoder().encode(left.join('\n')));
  }
  home.reads = 0;
  expect(await read(journal)).toEqual([0, 1, 2, 3, 4]);
  expect(home.reads).toBeGreaterThan(0);
  home.reads = 0;
  expect(await read(journal)).toEqual([0, 1, 2, 3, 4]);
  expect(home.reads).toBe(0);
  await journal.close();
});

test('is read as it is while the files do not answer', async () => {
  const journal = await hurt([5]);
  home.failure = 'no access';
  expect(await read(journal)).toEqual([0, 1, 2, 3, 4]);
  home.failure = null;
  await journal.close();
});

test('whose line in the list of cases is gone is taken in again, and holds nothing up', async () => {
  for (let run = 0; run < 2; run += 1) await (await start()).close();
  const before = await start();
  const read = await before.read('old');
  if (!read.ok) throw new Error(read.error.code);
  await before.close();
  const database = await openDB(NAME);
  await database.delete('cases', 'old');
  database.close();
  const journal = await start();
  const { epoch } = await begun(journal);
  const adopting = journal.adopt({ caseId: 'old', epoch, entries: read.value.entries });
  const late = new Promise((resolve) => setTimeout(() => resolve('nothing'), 1500));
  expect(await Promise.race([adopting, late])).toMatchObject({ ok: true });
  const listed = await journal.listCases();
  expect(listed.ok && listed.value.map(({ entries }) => entries)).toEqual([LENGTH]);
  await journal.close();
});
