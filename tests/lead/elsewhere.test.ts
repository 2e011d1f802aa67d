/** A backup of another tablet puts no protocol in force where a clinic lead keeps the desk. */
import { webcrypto } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { fieldsOf } from '../../src/base/json.ts';
import { canonicalText } from '../../src/protocol/canonical-text.ts';
import { addEdit } from '../../src/protocol/edit-history.ts';
import { figuresOf, unconfirmedFigures } from '../../src/protocol/edit-types.ts';
import { makeBackup, restoreBackup } from '../../src/runtime/backup/backup.ts';
import { protocolHash } from '../../src/runtime/lead/lead-documents.ts';
import type { CryptoLike } from '../../src/runtime/lead/lead-passphrase.ts';
import { currentRevision, readRevisions } from '../../src/runtime/lead/lead-revisions.ts';
import { hashText } from '../../src/storage/hash-chain.ts';
import type { Journal } from '../../src/storage/journal-types.ts';
import { instruction, openDesk, PASSPHRASE, type TestDesk, template } from './lead-support.ts';

const BACKUP_PASSPHRASE = 'ebb tide over quiet sand';
const crypto = webcrypto as unknown as CryptoLike;
const ID = template().id;

async function deskOf(person: string): Promise<TestDesk> {
  const test = await openDesk();
  await test.desk.setPassphrase({ person, passphrase: PASSPHRASE });
  return test;
}

/** Confirms the shipped template with another etch target. */
async function confirmEtch({ desk }: TestDesk, targetMs: number): Promise<string> {
  const begun = await desk.beginDraft(template());
  if (!begun.ok) throw new Error(begun.error.code);
  const draft = desk.state.getState().drafts.find((d) => d.id === begun.value);
  if (draft === undefined) throw new Error('no draft');
  const spot = { part: 'steps', id: 'etch', key: 'action.targetMs' } as const;
  const figure = { value: targetMs, basis: instruction };
  const edited = addEdit(draft.history, { do: 'set-figure', spot, figure });
  if (!edited.ok) throw new Error(edited.error.place);
  const spots = figuresOf(edited.value.protocol)
    .filter((f) => f.binds)
    .map((f) => f.spot);
  const all = addEdit(edited.value, { do: 'set-basis', spots, basis: instruction });
  if (!all.ok) throw new Error(all.error.place);
  await desk.saveDraft(begun.value, all.value);
  const confirmed = await desk.confirm(begun.value);
  if (!confirmed.ok) throw new Error(confirmed.error.code);
  return confirmed.value.hash;
}

async function backup(journal: Journal): Promise<Blob> {
  const made = await makeBackup({ journal, crypto, passphrase: BACKUP_PASSPHRASE });
  if (!made.ok) throw new Error(made.error.code);
  return made.value.file;
}

async function restore({ journal, epoch }: TestDesk, file: Blob): Promise<void> {
  const done = await restoreBackup({
    journal,
    epoch,
    crypto,
    file,
    passphrase: BACKUP_PASSPHRASE,
  });
  if (!done.ok) throw new Error(done.error.code);
}

const inForce = async (journal: Journal): Promise<string | null> =>
  currentRevision((await readRevisions(journal)).all, ID)?.hash ?? null;

describe('a backup of another tablet, restored where a lead keeps the desk', () => {
  it('brings its revision, but not its confirmation: that waits, by name, for this lead', async () => {
    const there = await deskOf('Lead of another clinic');
    const theirs = await confirmEtch(there, 15_000);
    const here = await deskOf('Lead of this clinic');
    await restore(here, await backup(there.journal));
    expect(await inForce(here.journal)).toBeNull();
    const { all, refused } = await readRevisions(here.journal);
    expect(refused).toEqual([]);
    expect(all).toMatchObject([
      { hash: theirs, approval: null, elsewhere: { by: 'Lead of another clinic' } },
    ]);
  });

  it('is read anew where a draft begins with it: what was confirmed there is a note', async () => {
    const there = await deskOf('Lead of another clinic');
    const theirs = await confirmEtch(there, 15_000);
    const here = await deskOf('Lead of this clinic');
    await restore(here, await backup(there.journal));
    const begunFrom = async ({ desk }: TestDesk) => {
      await desk.refresh();
      const revision = desk.state.getState().revisions.find(({ hash }) => hash === theirs);
      if (revision === undefined) throw new Error('no revision');
      const begun = await desk.beginDraft(revision.protocol);
      const id = begun.ok ? begun.value : begun.error.code;
      const draft = desk.state.getState().drafts.find((d) => d.id === id);
      if (draft === undefined) throw new Error(id);
      return draft;
    };
    const draft = await begunFrom(here);
    const { protocol } = draft.history;
    const bases = figuresOf(protocol).map(({ figure }) => figure.basis);
    expect(bases.filter(({ kind }) => kind === 'instructions')).toEqual([]);
    expect(bases.some((b) => b.kind === 'practice' && /^file says: /.test(b.note ?? ''))).toBe(
      true,
    );
    expect(draft.startHash).toBe(theirs);
    expect(await here.desk.confirm(draft.id)).toMatchObject({
      error: { code: 'unconfirmed-figures' },
    });
    // The desk that confirmed it goes on from what it has read.
    const own = await begunFrom(there);
    expect(unconfirmedFigures(own.history.protocol)).toEqual([]);
    expect(protocolHash(own.start)).toBe(theirs);
  });

  it('leaves what is confirmed here in force, though both call it the same revision', async () => {
    const there = await deskOf('Lead of another clinic');
    await confirmEtch(there, 15_000);
    await confirmEtch(there, 16_000);
    const here = await deskOf('Lead of this clinic');
    const ours = await confirmEtch(here, 25_000);
    await restore(here, await backup(there.journal));
    expect(await inForce(here.journal)).toBe(ours);
    expect((await readRevisions(here.journal)).refused).toEqual([]);
    await restore(here, await backup(there.journal));
    expect(await inForce(here.journal)).toBe(ours);
  });

  it('leaves the log of this tablet whole, and what its lead confirms afterwards counts', async () => {
    const there = await deskOf('Lead of another clinic');
    await confirmEtch(there, 15_000);
    await there.desk.close('by-hand');
    const here = await deskOf('Lead of this clinic');
    await restore(here, await backup(there.journal));
    await here.desk.refresh();
    expect(here.desk.state.getState().log).toMatchObject({ broken: 0 });
    const ours = await confirmEtch(here, 25_000);
    expect(await inForce(here.journal)).toBe(ours);
  });

  it('puts everything back where no lead keeps the desk: a tablet that was lost', async () => {
    const lost = await deskOf('Lead of this clinic');
    const ours = await confirmEtch(lost, 25_000);
    const fresh = await openDesk();
    await restore(fresh, await backup(lost.journal));
    expect(await inForce(fresh.journal)).toBe(ours);
  });
});

describe('a break in the log of the desk', () => {
  it('takes the voice of what stands behind it, until somebody who opened the desk notes it', async () => {
    const test = await deskOf('Lead of this clinic');
    const [first] = await logDocuments(test.journal);
    const ours = await confirmEtch(test, 25_000);
    await alter(test, first?.id ?? '');
    expect(await inForce(test.journal)).toBeNull();
    await test.desk.close('by-hand');
    await test.desk.open(PASSPHRASE);
    expect(await inForce(test.journal)).toBeNull();
    const again = await confirmEtch(test, 25_000);
    expect(again).not.toBe(ours);
    expect(await inForce(test.journal)).toBe(again);
  });
});

const seqOf = (value: unknown): number => (value as { said: { seq: number } }).said.seq;

async function logDocuments(journal: Journal) {
  const listed = await journal.documents.list('fact-lead-log');
  if (!listed.ok) throw new Error(listed.error.code);
  return listed.value.toSorted((a, b) => seqOf(a.value) - seqOf(b.value));
}

/** Changes one entry of the log under the app's feet, and gives it the name of what it says then. */
async function alter({ journal, epoch }: TestDesk, id: string): Promise<void> {
  const entry = (await logDocuments(journal)).find((d) => d.id === id);
  const { said, ...rest } = fieldsOf(entry?.value);
  const value = { ...rest, said: { ...fieldsOf(said), by: 'Nobody' } };
  await journal.documents.put({ kind: 'fact-lead-log', id, value: null, epoch });
  const named = hashText(canonicalText(value));
  await journal.documents.put({ kind: 'fact-lead-log', id: named, value, epoch });
}
