/** The contract over the browser's own database and files, and what only a real browser can lose. */
import { afterEach, describe, expect, it, vi } from 'vitest';
import { readLines } from '../../src/storage/file-lines.ts';
import { createIndexedDbJournal } from '../../src/storage/indexed-db-journal.ts';
import type { Journal, JournalStatus } from '../../src/storage/journal-types.ts';
import { createOpfsHome, hasPrivateFiles } from '../../src/storage/opfs-home.ts';
import { createTabChannel } from '../../src/storage/tab-channel.ts';
import { WRITER_LOCK, WriterLock } from '../../src/storage/writer-lock.ts';
import { journalContract } from './journal-contract.ts';
import { opening, pressOf, wholeCase } from './sample-case.ts';

let devices = 0;

/** Files outlive a test run, so each test begins by removing its own. */
async function emptyFiles(name: string): Promise<void> {
  const home = createOpfsHome(name);
  for (const { name } of await home.list()) await home.remove(name);
  await home.release();
}

function makeTab(name: string, copies: 1 | 2): Journal {
  const home = copies === 2 ? createOpfsHome(name) : null;
  return createIndexedDbJournal({ name, home, channel: createTabChannel(name) });
}

for (const copies of [1, 2] as const) {
  journalContract(`the browser with ${copies} copies`, async () => {
    devices += 1;
    const name = `contract-${devices}`;
    if (copies === 2) await emptyFiles(name);
    return {
      openTab: () => makeTab(name, copies),
      copies,
      dispose: async () => {
        indexedDB.deleteDatabase(name);
      },
    };
  });
}

describe('the journal in a real browser', () => {
  const NAME = 'real';
  const open: Journal[] = [];

  afterEach(async () => {
    vi.restoreAllMocks();
    for (const journal of open.splice(0)) await journal.close();
    indexedDB.deleteDatabase(NAME);
  });

  async function start(): Promise<{ journal: Journal; epoch: number }> {
    const journal = makeTab(NAME, 2);
    open.push(journal);
    const started = await journal.startWriting();
    if (!started.ok) throw new Error(JSON.stringify(started.error));
    return { journal, epoch: started.value.epoch };
  }

  async function linesInFiles(): Promise<readonly string[]> {
    const home = createOpfsHome(NAME);
    const found: string[] = [];
    for (const { name } of await home.list()) {
      const { records, unreadable } = readLines(await home.read(name));
      expect(unreadable).toEqual([]);
      found.push(
        ...records.map((r) => (r.record === 'entry' ? `${r.body.caseId}/${r.body.seq}` : r.record)),
      );
    }
    await home.release();
    return found;
  }

  it('has private files here, or these tests would prove less than they say', () => {
    expect(hasPrivateFiles()).toBe(true);
  });

  it('asks for strict durability on every write of the journal', async () => {
    const asked = vi.spyOn(IDBDatabase.prototype, 'transaction');
    await emptyFiles(NAME);
    const { journal, epoch } = await start();
    await journal.append({ caseId: 'c1', epoch, recorded: [opening('c1')] });
    await journal.documents.put({ kind: 'settings', id: 's', value: 1, epoch });
    const writes = asked.mock.calls.filter((call) => call[1] === 'readwrite');
    expect(writes.length).toBeGreaterThan(3);
    expect(writes.map((call) => call[2])).toEqual(writes.map(() => ({ durability: 'strict' })));
  });

  it('has every acknowledged press in the files as well', async () => {
    await emptyFiles(NAME);
    const { journal, epoch } = await start();
    const ack = await journal.append({ caseId: 'c1', epoch, recorded: wholeCase('c1', 5) });
    expect(ack).toMatchObject({ ok: true, value: { copies: 2 } });
    expect(await linesInFiles()).toEqual(['c1/0', 'c1/1', 'c1/2', 'c1/3', 'c1/4']);
  });

  it('goes on after its database was deleted under it, with everything back from the files', async () => {
    await emptyFiles(NAME);
    const { journal, epoch } = await start();
    await journal.append({ caseId: 'c1', epoch, recorded: wholeCase('c1', 30) });
    await new Promise((resolve, reject) => {
      const request = indexedDB.deleteDatabase(NAME);
      request.onsuccess = resolve;
      request.onerror = reject;
    });
    const ack = await journal.append({ caseId: 'c1', epoch, recorded: pressOf(2, 30) });
    expect(ack).toMatchObject({ ok: true, value: { copies: 2 } });
    const reading = await journal.read('c1');
    expect(reading.ok && reading.value.entries).toHaveLength(32);
    expect(reading.ok && reading.value.verdict.firstBad).toBeNull();
  });

  it('shows presses as not saved while its connection fails, then saves them all in order', async () => {
    await emptyFiles(NAME);
    const { journal, epoch } = await start();
    await journal.append({ caseId: 'c1', epoch, recorded: [opening('c1')] });
    const statuses: JournalStatus[] = [];
    journal.onStatus((status) => statuses.push(status));
    const fail = (): never => {
      throw new DOMException('Connection to Indexed Database server lost', 'UnknownError');
    };
    const broken = vi.spyOn(IDBDatabase.prototype, 'transaction').mockImplementation(fail);
    const waiting = [1, 2, 3].map((seq) =>
      journal.append({ caseId: 'c1', epoch, recorded: pressOf(1, seq) }),
    );
    await expect.poll(() => statuses.at(-1)).toMatchObject({ saved: false, queued: 3 });
    await expect.poll(linesInFiles).toEqual(['c1/0', 'c1/1', 'c1/2', 'c1/3']);
    broken.mockRestore();
    const acks = await Promise.all(waiting);
    expect(acks.every((ack) => ack.ok)).toBe(true);
    expect(statuses.at(-1)).toEqual({ saved: true, queued: 0, copies: 2, problem: null });
    const reading = await journal.read('c1');
    expect(reading.ok && reading.value.entries.map((entry) => entry.seq)).toEqual([0, 1, 2, 3]);
  });

  it('lets one tab hold the lock, hands it over when asked, and fences the one that was robbed', async () => {
    const states: string[] = [];
    let mayHandOver = true;
    const tab = (tabId: string): WriterLock =>
      new WriterLock({
        locks: navigator.locks,
        channel: new BroadcastChannel(WRITER_LOCK),
        tabId,
        onAsked: async () => mayHandOver,
        onState: (state) => states.push(`${tabId} ${state}`),
      });
    const a = tab('a');
    const b = tab('b');
    expect(await a.acquire()).toBe(true);
    expect(await b.acquire()).toBe(false);
    expect(await b.requestHandover()).toBe('held');
    mayHandOver = false;
    expect(await a.requestHandover()).toBe('refused');
    expect(await a.takeOver()).toBe(false);
    const robber = navigator.locks.request(WRITER_LOCK, { steal: true }, async () => undefined);
    await robber;
    await expect.poll(() => b.state).toBe('lost');
    expect(states).toEqual(['a held', 'a none', 'b held', 'b lost']);
    a.close();
    b.close();
  });
});
