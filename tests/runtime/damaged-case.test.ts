/** A case of which entries are gone from both copies opens with what is left, says so, and goes on. */
import { IDBFactory } from 'fake-indexeddb';
import 'fake-indexeddb/auto';
import { openDB } from 'idb';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { asFact, documentOf } from '../../src/runtime/facts/fact.ts';
import { createIndexedDbJournal } from '../../src/storage/indexed-db-journal.ts';
import type { Journal } from '../../src/storage/journal-types.ts';
import { createTabChannel } from '../../src/storage/tab-channel.ts';
import { dwell, protocolOf, settingOf, step } from '../engine/fixture.ts';
import { MemoryHeads } from '../storage/memory-heads.ts';
import { MemoryHome } from '../storage/memory-home.ts';
import { fakeTime, settle } from './fake-time.ts';
import { quietSession } from './quiet-session.ts';

const NAME = 'damaged-case';
const etch = protocolOf([step('etch', 'tooth', dwell(15, 20, 30))]);
const { spec } = settingOf(etch, ['11', '21', '12']);
const entry = { protocol: etch, hash: 'h', origin: 'own' } as const;
const draft = { ...entry, approval: { hash: 'h', by: 'lead', onWallMs: 0 } };

let home: MemoryHome;
let heads: MemoryHeads;
let journal: Journal;

beforeEach(() => {
  globalThis.indexedDB = new IDBFactory();
  home = new MemoryHome();
  heads = new MemoryHeads();
});

afterEach(() => journal.close());

async function app(run: string) {
  const channel = createTabChannel(NAME);
  journal = createIndexedDbJournal({ name: NAME, home, channel, heads: [heads] });
  const time = fakeTime({ wallMs: Date.UTC(2026, 10, 27, 9) });
  const session = quietSession({ journal, protocols: [], cases: [], time, run });
  await session.start();
  return { session, time };
}

const stored = async (caseId: string): Promise<number> => {
  const read = await journal.read(caseId);
  if (!read.ok) throw new Error(read.error.code);
  return read.value.verdict.firstBad === null ? read.value.entries.length : -1;
};

/** Opens a case and presses `presses` times; returns its id and how many entries that made. */
async function pressed(presses: number) {
  const { session, time } = await app('first-');
  const opened = await session.openCase({ spec, mode: 'patient', speed: 1, draft });
  if (!opened.ok) throw new Error(JSON.stringify(opened.error));
  for (let n = 0; n < presses; n += 1) {
    session.pressNext();
    time.pass(20_000);
    await settle();
  }
  await expect.poll(() => stored(opened.value)).toBeGreaterThan(presses);
  const entries = await stored(opened.value);
  await journal.close();
  return { caseId: opened.value, entries };
}

async function cut(caseId: string, seq: number): Promise<void> {
  const database = await openDB(NAME);
  await database.delete('entries', [caseId, seq]);
  database.close();
  for (const [name, bytes] of home.files) {
    const lines = new TextDecoder().decode(bytes).split('\n');
    const kept = lines.filter((line) => !line.includes(`"seq":${seq},`));
    home.files.set(name, new TextEncoder().encode(kept.join('\n')));
  }
}

test('it goes on from what is left, and its next press is stored in both copies', async () => {
  const { caseId, entries } = await pressed(4);
  await cut(caseId, 2);
  const { session } = await app('second-');
  const told = { caseId, known: entries, left: 2, apart: entries - 3 };
  expect(session.store.getState().damage.cases).toMatchObject([told]);
  expect(await session.resumeCase(caseId)).toMatchObject({ ok: true });
  await settle();
  session.pressNext();
  await expect.poll(() => stored(caseId)).toBeGreaterThan(2);
  const { running, journal: status } = session.store.getState();
  expect(running?.unsaved).toBe(0);
  expect(status).toMatchObject({ saved: true, copies: 2 });
  expect(session.store.getState().damage.cases).toMatchObject([told]);
});

test('it is told once more at every later start, until a person has seen it', async () => {
  const { caseId } = await pressed(2);
  await cut(caseId, 1);
  const first = await app('second-');
  await first.session.noteDamage();
  expect(first.session.store.getState().damage.isNoted).toBe(true);
  await journal.close();
  const { session } = await app('third-');
  expect(session.store.getState().damage).toMatchObject({ isNoted: true, cases: [{ caseId }] });
});

test('a prepared case that cannot be read is told by its name', async () => {
  const { session } = await app('first-');
  const prepared = (item: string, spec: unknown) => {
    const said = { type: 'prepared', spec };
    const fact = { kind: 'prepared-case', item, said, after: [], tablet: 't', by: null } as const;
    return documentOf(asFact({ ...fact, atWallMs: 0 }));
  };
  const garbled = prepared('c', { title: 'Lower molar' });
  for (const document of [
    prepared('a', { title: 'Upper front', units: 'gone' }),
    prepared('b', 7),
    { ...garbled, value: { ...Object(garbled.value), by: 'altered' } },
  ]) {
    expect(await journal.documents.put({ ...document, epoch: 1 })).toMatchObject({ ok: true });
  }
  await session.refreshLists();
  const { unreadPrepared } = session.store.getState();
  expect(unreadPrepared.toSorted()).toEqual(['Lower molar', 'Upper front', 'b']);
});
