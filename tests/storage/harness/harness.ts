/** The journal alone in a page, within reach of a test that kills, cuts and freezes around it. */
import { present } from '../../../src/base/assert.ts';
import type { Result } from '../../../src/base/result.ts';
import { appendPress } from '../../../src/storage/database-entries.ts';
import { openDatabase } from '../../../src/storage/database-open.ts';
import { readCase } from '../../../src/storage/database-reads.ts';
import { raiseEpoch } from '../../../src/storage/database-transactions.ts';
import type { WriterStart } from '../../../src/storage/journal-types.ts';
import { WRITER_LOCK, WriterLock } from '../../../src/storage/writer-lock.ts';
import { pageJournal } from '../page-journal.ts';
import { opening, pressOf } from '../sample-case.ts';

const NAME = 'lutewatch';

const journal = pageJournal(NAME);
const heard: string[] = [];
journal.subscribe((news) => {
  if (news.type === 'entries') heard.push(...news.entries.map((e) => `${e.caseId}/${e.seq}`));
});

let epoch = 0;
const lock = new WriterLock({
  locks: navigator.locks,
  channel: new BroadcastChannel(WRITER_LOCK),
  tabId: crypto.randomUUID(),
  onAsked: async () => {
    await journal.stopWriting();
    return true;
  },
  onState: () => undefined,
});

function must<T>(result: Result<T, unknown>): T {
  if (!result.ok) throw new Error(JSON.stringify(result.error));
  return result.value;
}

const press = (caseId: string, seq: number) => ({
  caseId,
  epoch,
  recorded: seq === 0 ? [opening(caseId)] : pressOf(1, seq),
});

async function start(): Promise<WriterStart> {
  const started = must(await journal.startWriting());
  epoch = started.epoch;
  return started;
}

/** Appends `count` presses after `from` others; returns how many were acknowledged. */
async function write(batch: { caseId: string; from: number; count: number }): Promise<number> {
  for (let i = 0; i < batch.count; i += 1) {
    must(await journal.append(press(batch.caseId, batch.from + i)));
  }
  return batch.from + batch.count;
}

/** Appends until the page dies, telling each acknowledged press. */
async function writeForEver(flow: { caseId: string; pauseMs: number }): Promise<void> {
  for (let seq = 0; ; seq += 1) {
    must(await journal.append(press(flow.caseId, seq)));
    window.acknowledged(flow.caseId, seq + 1);
    if (flow.pauseMs > 0) await new Promise((resolve) => setTimeout(resolve, flow.pauseMs));
  }
}

/** Entries of a case whose chain holds. */
async function count(caseId: string): Promise<number> {
  return must(await journal.read(caseId)).entries.length;
}

/** What is told of damage: of each case how many entries are known and left. */
async function told(): Promise<readonly { caseId: string; known: number; left: number }[]> {
  const { cases } = must(await journal.damage.read());
  return cases.map(({ caseId, known, left }) => ({ caseId, known, left }));
}

/** Cuts a case where it breaks and adds a press to it; returns in how many homes that stands. */
async function goOn(caseId: string): Promise<number> {
  must(await journal.damage.settle({ caseId, epoch }));
  return must(await journal.append(press(caseId, await count(caseId)))).copies;
}

async function countAll(): Promise<Record<string, number>> {
  const cases = must(await journal.listCases());
  const counts = await Promise.all(
    cases.map(async ({ caseId }) => [caseId, await count(caseId)] as const),
  );
  return Object.fromEntries(counts);
}

/** One strict database and nothing else: no second home, no fresh log. */
const bare = {
  async open() {
    const opened = must(
      await openDatabase({ name: 'bare', mayUpgrade: true, onLost: () => undefined }),
    );
    return present(opened, 'a database opened to write').database;
  },
  async write(batch: { caseId: string; from: number; count: number }): Promise<number> {
    const database = await bare.open();
    epoch = await raiseEpoch(database, 0);
    for (let i = 0; i < batch.count; i += 1) {
      const stored = await appendPress(database, press(batch.caseId, batch.from + i));
      // A torn log forgets its last press, so the next one does not fit; any later write will do.
      if (!stored.ok) await raiseEpoch(database, 0);
    }
    database.close();
    return batch.from + batch.count;
  },
  async count(caseId: string): Promise<number> {
    const database = await bare.open();
    const reading = await readCase(database, caseId);
    database.close();
    return reading.entries.length;
  },
};

/** Leaves the database's log as it is, to see what the second home alone is good for. */
function withoutRotation(): void {
  const open = indexedDB.open.bind(indexedDB);
  indexedDB.open = (name, version) => {
    if (name.includes('rotation')) throw new DOMException('not in this test', 'UnknownError');
    return open(name, version);
  };
}

/** One append whose outcome is told as a word. */
async function tryAppend(at: { caseId: string; seq: number; epoch?: number }): Promise<string> {
  const batch = { ...press(at.caseId, at.seq), epoch: at.epoch ?? epoch };
  const outcome = await journal.append(batch);
  return outcome.ok ? `stored in ${outcome.value.copies}` : outcome.error.code;
}

const harness = {
  start,
  write,
  writeForEver,
  count,
  countAll,
  told,
  goOn,
  bare,
  withoutRotation,
  tryAppend,
  lock,
  heard,
};

declare global {
  interface Window {
    harness: typeof harness;
    acknowledged: (caseId: string, entries: number) => void;
  }
}

window.harness = harness;
