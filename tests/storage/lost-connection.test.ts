import { IDBFactory } from 'fake-indexeddb';
import 'fake-indexeddb/auto';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { present } from '../../src/base/assert.ts';
import { readLines } from '../../src/storage/file-lines.ts';
import { createIndexedDbJournal } from '../../src/storage/indexed-db-journal.ts';
import type { Journal, JournalStatus } from '../../src/storage/journal-types.ts';
import { createTabChannel } from '../../src/storage/tab-channel.ts';
import { MemoryHome } from './memory-home.ts';
import { opening, pressOf } from './sample-case.ts';

const NAME = 'lost-connection';
let home: MemoryHome;
let journal: Journal;
let epoch: number;
let statuses: JournalStatus[];

beforeEach(async () => {
  globalThis.indexedDB = new IDBFactory();
  home = new MemoryHome();
  journal = createIndexedDbJournal({ name: NAME, home, channel: createTabChannel(NAME) });
  const started = await journal.startWriting();
  if (!started.ok) throw new Error(JSON.stringify(started.error));
  epoch = started.value.epoch;
  await journal.append({ caseId: 'c1', epoch, recorded: [opening('c1')] });
  statuses = [];
  journal.onStatus((status) => statuses.push(status));
});

afterEach(async () => {
  vi.restoreAllMocks();
  await journal.close();
});

/** From now on every transaction fails as a lost connection does, and opening fails too. */
function loseDatabase(errorName: string): { giveBack: () => void } {
  const fail = (): never => {
    throw new DOMException('Connection to Indexed Database server lost', errorName);
  };
  const transaction = vi.spyOn(IDBDatabase.prototype, 'transaction').mockImplementation(fail);
  const opening = vi.spyOn(indexedDB, 'open').mockImplementation(fail);
  return {
    giveBack: () => {
      transaction.mockRestore();
      opening.mockRestore();
    },
  };
}

const append = (from: number, count = 1) =>
  journal.append({ caseId: 'c1', epoch, recorded: pressOf(count, from) });

const lineSeqs = (): readonly number[] =>
  readLines(present([...home.files.values()][0], 'the file')).records.flatMap((record) =>
    record.record === 'entry' ? [record.body.seq] : [],
  );

describe.each(['InvalidStateError', 'UnknownError', 'AbortError', 'QuotaExceededError'])(
  'a connection that fails with %s',
  (errorName) => {
    it('is opened again; presses wait in order, show as not saved, and none is lost', async () => {
      const lost = loseDatabase(errorName);
      let isAcknowledged = false;
      const first = append(1, 2).finally(() => {
        isAcknowledged = true;
      });
      const second = append(3);
      await expect
        .poll(() => statuses.at(-1))
        .toMatchObject({
          saved: false,
          queued: 2,
          copies: 1,
          problem: errorName === 'QuotaExceededError' ? expect.any(String) : 'database-lost',
        });
      // One home already has them, should the browser be killed now.
      await expect.poll(lineSeqs).toEqual([0, 1, 2, 3]);
      expect(isAcknowledged).toBe(false);
      lost.giveBack();
      expect((await first).ok && (await second).ok).toBe(true);
      expect(statuses.at(-1)).toEqual({ saved: true, queued: 0, copies: 2, problem: null });
      const reading = await journal.read('c1');
      expect(reading.ok && reading.value.entries.map((e) => e.seq)).toEqual([0, 1, 2, 3]);
      // What was written early is the very entry that the database chained.
      expect(lineSeqs()).toEqual([0, 1, 2, 3]);
      await journal.close();
      const again = createIndexedDbJournal({ name: NAME, home, channel: createTabChannel(NAME) });
      const restarted = await again.startWriting();
      expect(restarted).toMatchObject({
        ok: true,
        value: { report: { conflicts: 0, entries: 0 } },
      });
      await again.close();
    });
  },
);

describe('a lost connection', () => {
  it('that lost only the answer does not store the press twice', async () => {
    const original = IDBDatabase.prototype.transaction;
    let isFirst = true;
    vi.spyOn(IDBDatabase.prototype, 'transaction').mockImplementation(function (
      this: IDBDatabase,
      ...args: Parameters<typeof original>
    ) {
      const transaction = original.apply(this, args);
      if (isFirst && args[1] === 'readwrite') {
        isFirst = false;
        // The transaction completes, but the page never hears of it.
        const listen = transaction.addEventListener.bind(transaction);
        transaction.addEventListener = (type: string, listener: EventListener) =>
          listen(type === 'complete' ? 'unheard' : type, listener);
      }
      return transaction;
    });
    expect((await append(1, 2)).ok).toBe(true);
    expect((await append(3)).ok).toBe(true);
    const reading = await journal.read('c1');
    expect(reading.ok && reading.value.entries.map((e) => e.seq)).toEqual([0, 1, 2, 3]);
    expect(statuses.some((status) => !status.saved)).toBe(true);
    expect(lineSeqs()).toEqual([0, 1, 2, 3]);
  });

  it('is opened again for reading', async () => {
    const original = IDBDatabase.prototype.transaction;
    let failures = 1;
    vi.spyOn(IDBDatabase.prototype, 'transaction').mockImplementation(function (
      this: IDBDatabase,
      ...args: Parameters<typeof original>
    ) {
      if (failures > 0) {
        failures -= 1;
        throw new DOMException('lost', 'InvalidStateError');
      }
      return original.apply(this, args);
    });
    const reading = await journal.read('c1');
    expect(reading.ok && reading.value.entries).toHaveLength(1);
  });

  it('that never comes back leaves the presses unacknowledged and says so when it is let go', async () => {
    loseDatabase('InvalidStateError');
    const waiting = append(1);
    await expect.poll(() => statuses.at(-1)?.saved).toBe(false);
    vi.useFakeTimers();
    const closing = journal.close();
    await vi.advanceTimersByTimeAsync(5000);
    vi.useRealTimers();
    await closing;
    expect(await waiting).toMatchObject({ ok: false, error: { code: 'not-writer' } });
    expect(lineSeqs()).toEqual([0, 1]);
  });

  it('to a database that was deleted under the program gets it back from the file, and goes on', async () => {
    expect((await append(1)).ok).toBe(true);
    await new Promise((resolve, reject) => {
      const request = indexedDB.deleteDatabase(NAME);
      request.onsuccess = resolve;
      request.onerror = reject;
    });
    expect((await append(2)).ok).toBe(true);
    const reading = await journal.read('c1');
    expect(reading.ok && reading.value.entries.map((e) => e.seq)).toEqual([0, 1, 2]);
    expect(reading.ok && new Set(reading.value.entries.map((e) => e.epoch))).toEqual(
      new Set([epoch]),
    );
  });
});
