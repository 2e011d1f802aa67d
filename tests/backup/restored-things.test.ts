/** After a restore every revision, lot and case that changed is named, with what became of it. */
import { describe, expect, it } from 'vitest';
import { makeBackup, restoreBackup } from '../../src/runtime/backup/backup.ts';
import type { CryptoLike } from '../../src/runtime/lead/lead-passphrase.ts';
import type { Journal } from '../../src/storage/journal-types.ts';
import type { RestoredThing } from '../../src/words/codes.ts';
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
const revision = (n: number, summary = '') => ({
  id: 'inlays',
  revision: n,
  title: 'Inlays',
  summary,
});
const approval = { hash: 'abc', by: 'Lead', onWallMs: 1 };

async function append(at: Filled, caseId: string, ...presses: number[]): Promise<void> {
  const { journal, epoch } = at;
  must(await journal.append({ caseId, epoch, recorded: [opening(caseId)] }));
  for (const [n, size] of presses.entries()) {
    must(await journal.append({ caseId, epoch, recorded: pressOf(size, n + 1) }));
  }
}

const TITLE = 'Upper front, two units — Küstenpraxis';

describe('what a restore names', () => {
  it('tells lots that came, that changed and that were set apart, and then nothing more', async () => {
    const here = await emptyJournal();
    const there = await emptyJournal();
    await put(there, 'material', 'new', lot('new', 'there'));
    await put(here, 'material', 'older', lot('older', 'here'));
    await put(there, 'material', 'older', lot('older', 'there'), lot('older', 'there again'));
    await put(here, 'material', 'both', lot('both', 'here'));
    await put(there, 'material', 'both', lot('both', 'there'));
    await put(here, 'material', 'gone', lot('gone', 'here'));
    await put(there, 'material', 'gone', lot('gone', 'there'), null);
    await put(here, 'material', 'same', lot('same', 'same'));
    await put(there, 'material', 'same', lot('same', 'same'));
    const material = { about: 'material', revision: null } as const;
    expect(await restored(here, there)).toEqual([
      { ...material, id: 'both', title: 'Etch gel, L-both', did: ['set-apart'] },
      { ...material, id: 'gone', title: 'Etch gel, L-gone', did: ['removed', 'earlier-apart'] },
      { ...material, id: 'new', title: 'Etch gel, L-new', did: ['added'] },
      { ...material, id: 'older', title: 'Etch gel, L-older', did: ['changed', 'earlier-apart'] },
    ]);
    expect(await restored(here, there)).toEqual([]);
  });

  it('tells revisions by title and number, and which of them wait for the lead', async () => {
    const here = await emptyJournal();
    const there = await emptyJournal();
    await put(here, 'lead-passphrase', 'this-tablet', 'own');
    await put(here, 'protocol', 'inlays@2', revision(2, 'here'));
    await put(there, 'protocol', 'inlays@2', revision(2, 'there'));
    await put(there, 'protocol', 'inlays@3', revision(3));
    await put(there, 'approval', 'inlays@3', approval);
    const about = { about: 'revision', title: 'Inlays' } as const;
    expect(await restored(here, there)).toEqual([
      { ...about, id: 'inlays@2', revision: 2, did: ['set-apart'] },
      { ...about, id: 'inlays@3', revision: 3, did: ['added', 'waits'] },
    ]);
    expect(await restored(here, there)).toEqual([]);
  });

  it('tells a revision that was here and was confirmed or retired as changed', async () => {
    const here = await emptyJournal();
    const there = await emptyJournal();
    for (const at of [here, there]) await put(at, 'protocol', 'inlays@2', revision(2));
    await put(there, 'approval', 'inlays@2', approval);
    await put(there, 'retirement', 'inlays@2', { ...approval, reason: 'x' });
    expect(await restored(here, there)).toEqual([
      { about: 'revision', id: 'inlays@2', title: 'Inlays', revision: 2, did: ['changed'] },
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
    await put(there, 'prepared-case', 'p', { id: 'p', title: 'Two veneers' });
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
