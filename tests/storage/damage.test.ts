import { IDBFactory } from 'fake-indexeddb';
import 'fake-indexeddb/auto';
import { deleteDB } from 'idb';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Result } from '../../src/base/result.ts';
import { type Heads, headsText, RECENT_MAX } from '../../src/storage/heads.ts';
import { createIndexedDbJournal } from '../../src/storage/indexed-db-journal.ts';
import type { Journal, WriterStart } from '../../src/storage/journal-types.ts';
import { createTabChannel } from '../../src/storage/tab-channel.ts';
import { isLong } from '../tools/run-size.ts';
import {
  CASE,
  type Copy,
  copyOf,
  DAMAGE_KINDS,
  DATABASE,
  type Profile,
  WRITTEN,
} from './damage-kinds.ts';
import { MemoryHeads } from './memory-heads.ts';
import { MemoryHome } from './memory-home.ts';
import { opening, pressOf, stampAt, wholeCase } from './sample-case.ts';

let home: MemoryHome;
let heads: MemoryHeads;
let open: Journal[] = [];

beforeEach(() => {
  globalThis.indexedDB = new IDBFactory();
  home = new MemoryHome();
  heads = new MemoryHeads();
});

afterEach(async () => {
  for (const journal of open) await journal.close();
  open = [];
});

function must<T>(result: Result<T, unknown>): T {
  if (!result.ok) throw new Error(JSON.stringify(result.error));
  return result.value;
}

async function start(): Promise<{ journal: Journal } & WriterStart> {
  const channel = createTabChannel(DATABASE);
  const journal = createIndexedDbJournal({ name: DATABASE, home, channel, heads: [heads] });
  open.push(journal);
  return { journal, ...must(await journal.startWriting()) };
}

async function write(from: number, count: number): Promise<void> {
  const { journal, epoch } = await start();
  for (let seq = from; seq < from + count; seq += 1) {
    const recorded = seq === 0 ? [opening(CASE)] : pressOf(1, seq);
    must(await journal.append({ caseId: CASE, epoch, recorded }));
  }
  must(await journal.documents.put({ kind: 'setting', id: 'n', value: from + count, epoch }));
  await journal.close();
}

async function otherTablet(): Promise<Copy> {
  const { journal, epoch } = await start();
  must(await journal.append({ caseId: 'theirs', epoch, recorded: wholeCase('theirs', 4) }));
  await journal.close();
  const copy = await copyOf(home);
  await deleteDB(DATABASE);
  home.files.clear();
  heads.texts = [];
  return copy;
}

/** Two sittings, of 8 and of 5 entries. */
async function profile(): Promise<Profile> {
  const other = await otherTablet();
  await write(0, 8);
  const older = await copyOf(home);
  await write(8, WRITTEN - 8);
  return { home, older, other };
}

const NOTHING: Copy = { files: new Map(), stores: new Map() };

const read = async (journal: Journal) => must(await journal.read(CASE));
const told = async (journal: Journal) => must(await journal.damage.read());

const parsedHeads = (): Heads => JSON.parse(heads.texts.at(-1) ?? '').body;

const forget = (): void => {
  heads.texts = [];
};

/** Every kind in the long run, every third otherwise. */
const SOME = DAMAGE_KINDS.filter((_, i) => isLong || i % 3 === 0);

describe('a profile that was damaged while it was closed', () => {
  it.each(DAMAGE_KINDS)('$name: $left of 13 entries are left', async (kind) => {
    const { left, apart = 0 } = kind;
    await kind.damage(await profile());
    const { journal } = await start();
    const reading = await read(journal);
    expect(reading.entries.map(({ seq }) => seq)).toEqual(
      Array.from({ length: left }, (_, i) => i),
    );
    const { cases } = await told(journal);
    const expected = {
      caseId: CASE,
      title: 'Upper front, two units — Küstenpraxis',
      known: WRITTEN,
    };
    expect(cases).toMatchObject(left === WRITTEN ? [] : [{ ...expected, left, apart }]);
    // A chain that is listed holds, or it is told that it does not.
    expect(reading.verdict.firstBad === null || cases.length === 1).toBe(true);
    await journal.close();
    const again = await start();
    expect((await told(again.journal)).cases).toEqual(cases);
    expect(again.report).toMatchObject({ mended: 0, entries: 0 });
    expect((await read(again.journal)).entries).toHaveLength(left);
  });

  it.each(SOME)('$name: what is left stands in both homes, and goes on', async (kind) => {
    await kind.damage(await profile());
    const { journal, epoch } = await start();
    if (kind.left > 0) {
      must(await journal.damage.settle({ caseId: CASE, epoch }));
      const recorded = pressOf(1, kind.left);
      expect(await journal.append({ caseId: CASE, epoch, recorded })).toMatchObject({
        value: { copies: 2 },
      });
    }
    await journal.close();
    await deleteDB(DATABASE);
    const rebuilt = await start();
    const { entries, verdict } = await read(rebuilt.journal);
    expect(entries).toHaveLength(kind.left > 0 ? kind.left + 1 : 0);
    expect(kind.left > 0 ? verdict.firstBad : null).toBeNull();
    const { cases } = await told(rebuilt.journal);
    expect(cases.map(({ known, left }) => known - left)).toEqual(
      kind.left === WRITTEN ? [] : [WRITTEN - kind.left],
    );
  });

  it('tells even without any other place what a hole or a summary shows', async () => {
    await profile();
    forget();
    const damaged = DAMAGE_KINDS.filter(({ name }) => /same (entry|head)/.test(name));
    expect(damaged).toHaveLength(2);
    for (const kind of damaged) await kind.damage({ home, older: NOTHING, other: NOTHING });
    const { journal } = await start();
    expect((await told(journal)).cases).toMatchObject([{ caseId: CASE, known: WRITTEN, left: 0 }]);
  });

  it('counts lines that cannot be read where nothing says what stood in them', async () => {
    const kind = DAMAGE_KINDS.find(({ name }) => name === 'both garbled from end to end');
    await kind?.damage(await profile());
    forget();
    const { journal } = await start();
    expect(await told(journal)).toMatchObject({ cases: [], unreadable: WRITTEN, isNoted: false });
  });

  it('counts cases of which not even the name is left', async () => {
    const { journal, epoch } = await start();
    for (let n = 0; n < RECENT_MAX + 3; n += 1) {
      must(await journal.append({ caseId: `case-${n}`, epoch, recorded: [opening(`case-${n}`)] }));
    }
    await journal.close();
    await deleteDB(DATABASE);
    home.files.clear();
    const after = await start();
    const { cases, unnamed } = await told(after.journal);
    expect([cases.length, unnamed]).toEqual([RECENT_MAX, 3]);
    await after.journal.close();
    expect(await told((await start()).journal)).toMatchObject({ unnamed: 3 });
  });

  it('goes quiet once a person has seen it, and speaks again of more', async () => {
    await profile();
    home.files.clear();
    await deleteDB(DATABASE);
    const first = await start();
    must(await first.journal.damage.note());
    expect(await told(first.journal)).toMatchObject({ isNoted: true });
    await first.journal.close();
    const { journal, epoch } = await start();
    expect(await told(journal)).toMatchObject({ isNoted: true, cases: [{ left: 0 }] });
    must(await journal.append({ caseId: 'next', epoch, recorded: [opening('next')] }));
    await journal.close();
    home.files.clear();
    await deleteDB(DATABASE);
    expect(await told((await start()).journal)).toMatchObject({ isNoted: false });
  });

  it('goes on telling all that is missing where a place remembers less of it', async () => {
    const shape = await profile();
    const kind = DAMAGE_KINDS.find(({ name }) => name === 'database gone and file torn');
    await kind?.damage(shape);
    const full = parsedHeads();
    const first = await start();
    const before = await told(first.journal);
    await first.journal.close();
    const less = { ...full, recent: full.recent.map((head) => ({ ...head, entries: 11 })) };
    heads.texts = [...heads.texts, headsText(less)];
    expect((await told((await start()).journal)).cases).toEqual(before.cases);
  });

  it('no longer tells of a case that is deleted, anywhere', async () => {
    const shape = await profile();
    await DAMAGE_KINDS.find(({ name }) => name === 'both flipped in the same entry')?.damage(shape);
    const { journal, epoch } = await start();
    const stamp = stampAt(0);
    must(await journal.deleteCase({ caseId: CASE, epoch, stamp, by: null, reason: 'asked' }));
    expect(await told(journal)).toMatchObject({ cases: [] });
    await journal.close();
    expect(heads.texts.join('')).not.toContain(CASE);
    expect(await told((await start()).journal)).toMatchObject({ cases: [] });
  });
});
