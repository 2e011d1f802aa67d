/** Damage over several starts: nothing that came back is told as lost, and no memory of a loss is lost. */
import { IDBFactory } from 'fake-indexeddb';
import 'fake-indexeddb/auto';
import { deleteDB, openDB } from 'idb';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { Result } from '../../src/base/result.ts';
import { createIndexedDbJournal } from '../../src/storage/indexed-db-journal.ts';
import type { Journal, JournalEntry } from '../../src/storage/journal-types.ts';
import { createTabChannel } from '../../src/storage/tab-channel.ts';
import { MemoryHeads } from './memory-heads.ts';
import { MemoryHome } from './memory-home.ts';
import { opening, pressOf, stampAt } from './sample-case.ts';

const DATABASE = 'again';
/** Parts of the app that cannot be loaded at present. */
const gone = vi.hoisted(() => new Set<string>());

vi.mock('../../src/storage/parts.ts', () => {
  const guarded = (name: string, load: () => Promise<unknown>) => async (): Promise<unknown> => {
    if (gone.has(name)) throw new TypeError(`${name} cannot be loaded`);
    return load();
  };
  const all: Record<string, () => Promise<unknown>> = {
    compareHomes: () => import('../../src/storage/compare-homes.ts'),
    mendWhileRunning: () => import('../../src/storage/mend-while-running.ts'),
    headsFound: () => import('../../src/storage/heads-found.ts'),
    headsRead: () => import('../../src/storage/heads-read.ts'),
    purgeCase: () => import('../../src/storage/purge-case.ts'),
  };
  const entries = Object.entries(all).map(([name, load]) => [name, guarded(name, load)]);
  return { parts: Object.fromEntries(entries) };
});

vi.mock('../../src/storage/mending-part.ts', () => ({
  loadMending: async (): Promise<unknown> => {
    if (gone.has('mendAll')) throw new TypeError('mendAll cannot be loaded');
    return import('../../src/storage/mend-all.ts');
  },
}));

let home: MemoryHome;
let heads: MemoryHeads;
let open: Journal[] = [];

beforeEach(() => {
  globalThis.indexedDB = new IDBFactory();
  home = new MemoryHome();
  heads = new MemoryHeads();
});

afterEach(async () => {
  gone.clear();
  for (const journal of open) await journal.close();
  open = [];
});

function must<T>(result: Result<T, unknown>): T {
  if (!result.ok) throw new Error(JSON.stringify(result.error));
  return result.value;
}

async function start(): Promise<{ journal: Journal; epoch: number }> {
  const channel = createTabChannel(DATABASE);
  const journal = createIndexedDbJournal({ name: DATABASE, home, channel, heads: [heads] });
  open.push(journal);
  return { journal, epoch: must(await journal.startWriting()).epoch };
}

/** Writes `cases` cases of `length` entries, closes, and answers with what was written. */
async function written(cases: number, length: number): Promise<readonly JournalEntry[][]> {
  const { journal, epoch } = await start();
  const all: JournalEntry[][] = [];
  for (let n = 0; n < cases; n += 1) {
    const caseId = `c${n}`;
    for (let seq = 0; seq < length; seq += 1) {
      const recorded = seq === 0 ? [opening(caseId)] : pressOf(1, seq);
      must(await journal.append({ caseId, epoch, recorded }));
    }
    all.push([...must(await journal.read(caseId)).entries]);
  }
  await journal.close();
  return all;
}

function tearFilesTo(lines: number): void {
  for (const [name, bytes] of home.files) {
    const kept = new TextDecoder().decode(bytes).split('\n').slice(0, lines);
    home.files.set(name, new TextEncoder().encode(`${kept.join('\n')}\n`));
  }
}

const told = async (journal: Journal) => must(await journal.damage.read());

describe('cases that a restore brought back', () => {
  it('are not told as lost at any later start', async () => {
    const all = await written(3, 2);
    await deleteDB(DATABASE);
    home.files.clear();
    const first = await start();
    expect((await told(first.journal)).cases).toHaveLength(3);
    for (const entries of all) {
      const caseId = entries[0]?.caseId ?? '';
      must(await first.journal.adopt({ caseId, epoch: first.epoch, entries }));
    }
    await first.journal.close();
    for (const _ of ['next', 'and the one after']) {
      const { journal } = await start();
      expect(await told(journal)).toMatchObject({ cases: [], unnamed: 0 });
      await journal.close();
    }
  });
});

describe('files that are silent for one start', () => {
  it('are no loss once they answer again', async () => {
    await written(3, 2);
    await deleteDB(DATABASE);
    home.failure = 'silent';
    await (await start()).journal.close();
    home.failure = null;
    const { journal } = await start();
    expect(must(await journal.listCases())).toHaveLength(3);
    expect(await told(journal)).toMatchObject({ cases: [], unnamed: 0 });
  });

  it('take no memory of lengths along: a tail that is torn afterwards is told by name', async () => {
    await written(1, 8);
    await deleteDB(DATABASE);
    home.failure = 'silent';
    await (await start()).journal.close();
    home.failure = null;
    tearFilesTo(5);
    const { journal } = await start();
    expect(await told(journal)).toMatchObject({
      cases: [{ caseId: 'c0', known: 8, left: 5 }],
      unnamed: 0,
    });
  });
});

describe('a part of the app that cannot be loaded', () => {
  it('that mends: the loss is told at the next start', async () => {
    await written(1, 8);
    await deleteDB(DATABASE);
    tearFilesTo(5);
    gone.add('mendAll');
    const blind = await start();
    for (const caseId of ['a', 'b', 'c']) {
      must(await blind.journal.append({ caseId, epoch: blind.epoch, recorded: [opening(caseId)] }));
    }
    await blind.journal.close();
    gone.clear();
    const { journal } = await start();
    expect((await told(journal)).cases).toMatchObject([{ caseId: 'c0', known: 8, left: 5 }]);
  });

  it('that compares: what was told stays told, and a press writes nothing over it', async () => {
    await written(2, 3);
    await deleteDB(DATABASE);
    home.files.clear();
    await (await start()).journal.close();
    gone.add('compareHomes');
    const blind = await start();
    expect((await told(blind.journal)).cases).toHaveLength(2);
    const next = { caseId: 'next', epoch: blind.epoch, recorded: [opening('next')] };
    must(await blind.journal.append(next));
    await blind.journal.close();
    gone.clear();
    expect((await told((await start()).journal)).cases).toHaveLength(2);
  });

  it('that deletes: nothing is deleted, and the next press is stored', async () => {
    await written(2, 3);
    const { journal, epoch } = await start();
    gone.add('purgeCase');
    const deletion = { caseId: 'c0', epoch, stamp: stampAt(99), by: null, reason: 'asked' };
    const deleted = await journal.deleteCase(deletion);
    expect(deleted).toMatchObject({ ok: false });
    const pressed = await journal.append({ caseId: 'c1', epoch, recorded: pressOf(1, 3) });
    expect(pressed).toMatchObject({ ok: true });
    expect(must(await journal.read('c0')).entries).toHaveLength(3);
    gone.clear();
    must(await journal.deleteCase(deletion));
  });
});

describe('a row of the list of cases that is lost alone', () => {
  it.each([
    ['a case written last', 3],
    ['a case that nobody remembers', 40],
  ])('of %s is made again from its entries', async (_, cases) => {
    await written(cases, 2);
    // Another start: what was written before has been compared.
    await (await start()).journal.close();
    const database = await openDB(DATABASE);
    await database.delete('cases', 'c0');
    database.close();
    const { journal } = await start();
    expect(must(await journal.listCases()).map(({ caseId }) => caseId)).toContain('c0');
    expect(must(await journal.read('c0')).entries).toHaveLength(2);
    expect(await told(journal)).toMatchObject({ cases: [], unnamed: 0 });
  });
});

describe('a list of cases that is lost where no other place remembers how many there were', () => {
  it.each([
    ['all of it', ['c0', 'c1', 'c2']],
    ['one row', ['c1']],
  ])('%s is made again from the entries', async (_, lost) => {
    await written(3, 2);
    await (await start()).journal.close();
    const database = await openDB(DATABASE);
    for (const caseId of lost) await database.delete('cases', caseId);
    database.close();
    heads.texts = [];
    const { journal } = await start();
    expect(must(await journal.listCases()).map(({ caseId }) => caseId)).toEqual(['c0', 'c1', 'c2']);
    expect(await told(journal)).toMatchObject({ cases: [], unnamed: 0 });
  });
});
