/** What a page still holds of a case outlives the browser's data, and is never told as saved. */
import { IDBFactory } from 'fake-indexeddb';
import 'fake-indexeddb/auto';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { CaseKeeper } from '../../src/runtime/cases/case-keeper.ts';
import { createIndexedDbJournal } from '../../src/storage/indexed-db-journal.ts';
import type { Journal, JournalEntry } from '../../src/storage/journal-types.ts';
import { createTabChannel } from '../../src/storage/tab-channel.ts';
import { MemoryHome } from '../storage/memory-home.ts';
import { opening, pressOf } from '../storage/sample-case.ts';

const NAME = 'case-keeper';
const CASE = 'c1';
let home: MemoryHome;
let journal: Journal;
let keeper: CaseKeeper;
let epoch: number;

beforeEach(async () => {
  globalThis.indexedDB = new IDBFactory();
  home = new MemoryHome();
  journal = createIndexedDbJournal({ name: NAME, home, channel: createTabChannel(NAME) });
  const started = await journal.startWriting();
  if (!started.ok) throw new Error(JSON.stringify(started.error));
  epoch = started.value.epoch;
  const opened = await journal.append({ caseId: CASE, epoch, recorded: [opening(CASE)] });
  if (!opened.ok) throw new Error(JSON.stringify(opened.error));
  keeper = new CaseKeeper({ journal, caseId: CASE, epoch, stored: opened.value.entries });
});

afterEach(async () => {
  vi.restoreAllMocks();
  await journal.close();
});

const press = (from: number, count = 1) => keeper.store(pressOf(count, from));

async function stored(): Promise<readonly JournalEntry[]> {
  const read = await journal.read(CASE);
  if (!read.ok) throw new Error(JSON.stringify(read.error));
  expect(read.value.verdict.firstBad).toBeNull();
  return read.value.entries;
}

/** As when somebody clears the site's data: both homes are empty, and the connection has gone. */
function clearSiteData(): void {
  globalThis.indexedDB = new IDBFactory();
  home.files.clear();
  vi.spyOn(IDBDatabase.prototype, 'transaction').mockImplementationOnce(() => {
    throw new DOMException('the connection was closed', 'InvalidStateError');
  });
}

describe('a case whose stored entries vanish while it runs', () => {
  test('is written again from memory with the next press: the same entries, and the new one', async () => {
    await press(1, 2);
    const before = await stored();
    clearSiteData();
    expect((await press(3)).ok).toBe(true);
    expect(keeper.unsaved).toBe(0);
    const after = await stored();
    expect(after.map((e) => e.seq)).toEqual([0, 1, 2, 3]);
    expect(after.slice(0, 3)).toEqual(before);
  });

  test('is whole too when two presses were on their way at once', async () => {
    await press(1);
    clearSiteData();
    const both = await Promise.all([press(2), press(3)]);
    expect(both.map((kept) => kept.ok)).toEqual([true, true]);
    expect((await stored()).map((e) => e.seq)).toEqual([0, 1, 2, 3]);
    expect(keeper.unsaved).toBe(0);
  });

  test('counts what is not saved while it cannot be written, and writes all of it once it can', async () => {
    await press(1);
    clearSiteData();
    const adopt = vi.spyOn(journal, 'adopt').mockResolvedValue({
      ok: false,
      error: { code: 'database-full', place: 'journal', expected: 'room', came: 'none' },
    });
    const refused = await press(2);
    expect(refused).toMatchObject({ ok: false, error: { code: 'database-full' } });
    expect(keeper.unsaved).toBe(1);
    expect(keeper.entries.map((e) => e.seq)).toEqual([0, 1, 2]);
    await press(3);
    expect(keeper.unsaved).toBe(2);
    adopt.mockRestore();
    expect((await press(4)).ok).toBe(true);
    expect(keeper.unsaved).toBe(0);
    expect((await stored()).map((e) => e.seq)).toEqual([0, 1, 2, 3, 4]);
    expect(keeper.entries).toEqual(await stored());
  });
});
