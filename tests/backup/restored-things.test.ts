/** After a restore every revision, lot and case that changed is named, with what became of it. */

import { describe, expect, it } from 'vitest';
import { makeBackup, restoreBackup } from '../../src/runtime/backup/backup.ts';
import { type Saying, say } from '../../src/runtime/facts/fact-writer.ts';
import { protocolHash } from '../../src/runtime/lead/lead-documents.ts';
import type { CryptoLike } from '../../src/runtime/lead/lead-passphrase.ts';
import type { Journal } from '../../src/storage/journal-types.ts';
import type { RestoredThing } from '../../src/words/codes.ts';
import { template } from '../lead/lead-support.ts';
import { opening, pressOf } from '../storage/sample-case.ts';
import { emptyJournal, type Filled, must } from './filled-journal.ts';

const passphrase = 'ebb tide over quiet sand';
const crypto: CryptoLike = {
  subtle: globalThis.crypto.subtle,
  getRandomValues: (array) => globalThis.crypto.getRandomValues(array),
};

async function backupOf(journal: Journal): Promise<Blob> {
  return must(await makeBackup({ journal, crypto, passphrase })).file;
}

async function restored(into: Filled, from: Filled): Promise<readonly RestoredThing[]> {
  const file = await backupOf(from.journal);
  return must(await restoreBackup({ ...into, crypto, file, passphrase })).things;
}

async function put(at: Filled, kind: string, id: string, ...values: unknown[]): Promise<void> {
  const { journal, epoch } = at;
  for (const value of values) must(await journal.documents.put({ kind, id, value, epoch }));
}

const lot = (id: string, note: string) => ({ id, label: 'Etch gel', lot: `L-${id}`, note });
const shipped = template();
const revision = (n: number, summary = '') => ({
  ...shipped,
  revision: n,
  summary: `${shipped.summary}${summary}`,
});

/** Says something of an item on a tablet; a fact that another tablet handed on keeps its name. */
async function tell(at: Filled, tablet: string, about: Pick<Saying, 'kind' | 'item' | 'said'>) {
  const parts = { ...at, epoch: () => at.epoch, tablet: () => tablet, nowWallMs: () => 1 };
  must(await say(parts, { ...about, by: null }));
}

const received = (id: string, note: string) => {
  const { id: _, ...fields } = { ...lot(id, note), materialClass: 'gel', refrigerated: false };
  return { type: 'received', fields };
};

async function append(at: Filled, caseId: string, ...presses: number[]): Promise<void> {
  const { journal, epoch } = at;
  must(await journal.append({ caseId, epoch, recorded: [opening(caseId)] }));
  for (const [n, size] of presses.entries()) {
    must(await journal.append({ caseId, epoch, recorded: pressOf(size, n + 1) }));
  }
}

const TITLE = 'Upper front, two units — Küstenpraxis';

describe('what a restore names', () => {
  it('tells lots that came, changed, were recalled and taken off, and then nothing more', async () => {
    const here = await emptyJournal();
    const there = await emptyJournal();
    const onBoth = async (item: string): Promise<void> => {
      const said = [received(item, 'x')];
      for (const at of [here, there]) await tell(at, 'one', { kind: 'material', item, said });
    };
    for (const item of ['changed', 'gone', 'recalled', 'same']) await onBoth(item);
    const add = (item: string, ...said: readonly object[]) =>
      tell(there, 'there', { kind: 'material', item, said });
    await add('new', received('new', 'there'));
    await add('changed', { type: 'corrected', fields: { note: 'y' } });
    await add('gone', { type: 'struck' });
    await add('recalled', { type: 'recalled', onWallMs: 1, reason: 'letter' });
    const material = { about: 'material', revision: null } as const;
    expect(await restored(here, there)).toEqual([
      { ...material, id: 'changed', title: 'Etch gel, L-changed', did: ['changed'] },
      { ...material, id: 'gone', title: 'Etch gel, L-gone', did: ['removed'] },
      { ...material, id: 'new', title: 'Etch gel, L-new', did: ['added'] },
      { ...material, id: 'recalled', title: 'Etch gel, L-recalled', did: ['recalled'] },
    ]);
    expect(await restored(here, there)).toEqual([]);
  });

  it('tells revisions by title, number and hash, and which of them wait for the lead', async () => {
    const here = await emptyJournal();
    const there = await emptyJournal();
    await put(here, 'lead-passphrase', 'this-tablet', 'own');
    const write = (at: Filled, tablet: string, ...said: readonly object[]) =>
      tell(at, tablet, { kind: 'protocol', item: shipped.id, said });
    await write(here, 'here', { type: 'written', protocol: revision(2, 'here') });
    const theirs = revision(2, 'there');
    const next = revision(3);
    await write(there, 'there', { type: 'written', protocol: theirs });
    await write(there, 'there', { type: 'written', protocol: next });
    const approval = { hash: protocolHash(next), by: 'Lead', onWallMs: 1 };
    await write(there, 'there', { type: 'confirmed', ...approval });
    const about = { about: 'revision', title: shipped.title } as const;
    expect(await restored(here, there)).toEqual([
      { ...about, id: protocolHash(theirs), revision: 2, did: ['added'] },
      { ...about, id: protocolHash(next), revision: 3, did: ['added', 'waits'] },
    ]);
    expect(await restored(here, there)).toEqual([]);
    await write(there, 'there', { type: 'retired', ...approval, reason: 'x' });
    expect(await restored(here, there)).toEqual([
      { ...about, id: protocolHash(next), revision: 3, did: ['retired'] },
    ]);
  });

  it('tells cases that came, grew and differ, and prepared cases', async () => {
    const here = await emptyJournal();
    const there = await emptyJournal();
    await append(here, 'differs', 1, 1);
    await append(there, 'differs', 3);
    await append(here, 'grows');
    await append(there, 'grows', 2);
    await append(there, 'new', 1);
    for (const at of [here, there]) await append(at, 'same');
    const said = [{ type: 'prepared', spec: { id: 'p', title: 'Two veneers' } }];
    await tell(there, 'there', { kind: 'prepared-case', item: 'p', said });
    const about = { about: 'case', title: TITLE, revision: null } as const;
    expect(await restored(here, there)).toEqual([
      {
        about: 'prepared-case',
        id: 'p',
        title: 'Two veneers',
        revision: null,
        did: ['added'],
      },
      { ...about, id: 'differs', did: ['set-apart'] },
      { ...about, id: 'grows', did: ['changed'] },
      { ...about, id: 'new', did: ['added'] },
    ]);
    expect(await restored(here, there)).toEqual([]);
  });

  it('tells what comes along because another tablet had set it apart', async () => {
    const there = await emptyJournal();
    const fresh = await emptyJournal();
    const value = { kind: 'material', id: 'm', value: lot('m', 'x'), version: 1 };
    await put(there, 'set-apart', 'hash', value);
    expect(await restored(fresh, there)).toEqual([
      {
        about: 'material',
        id: 'm',
        title: 'Etch gel, L-m',
        revision: null,
        did: ['set-apart'],
      },
    ]);
  });
});

describe('the demonstration of both tablets', () => {
  const demo = (expiry: string) => [
    { ...received('d1', ''), demo: true, fields: { ...received('d1', '').fields, expiry } },
    { type: 'opened', on: '2026-11-09' },
  ];

  it('is not told as changed where nobody touched it, though each tablet dated its own', async () => {
    const [here, there] = [await emptyJournal(), await emptyJournal()];
    await tell(here, 'here', { kind: 'material', item: 'd1', said: demo('2027-05-08') });
    await tell(there, 'there', { kind: 'material', item: 'd1', said: demo('2027-05-09') });
    const spec = { id: 'c', title: 'Two veneers' };
    for (const [at, name] of [
      [here, 'here'],
      [there, 'there'],
    ] as const) {
      const said = [{ type: 'prepared', spec: { ...spec, note: name }, demo: true }];
      await tell(at, name, { kind: 'prepared-case', item: 'c', said });
    }
    expect(await restored(here, there)).toEqual([]);
  });

  it('is told as changed where somebody did something to it there', async () => {
    const [here, there] = [await emptyJournal(), await emptyJournal()];
    await tell(here, 'here', { kind: 'material', item: 'd1', said: demo('2027-05-08') });
    await tell(there, 'there', { kind: 'material', item: 'd1', said: demo('2027-05-09') });
    const parts = { ...there, epoch: () => there.epoch, tablet: () => 'there' };
    const corrected = { type: 'corrected', fields: { note: 'left drawer' } };
    const said = { kind: 'material', item: 'd1', said: [corrected], by: null } as const;
    must(await say({ ...parts, nowWallMs: () => 60_001 }, said));
    expect(await restored(here, there)).toMatchObject([{ id: 'd1', did: ['changed'] }]);
  });
});
