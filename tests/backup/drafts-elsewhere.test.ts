/** Drafts of another desk: what was typed there is here, what was read or confirmed there is not. */
import { describe, expect, it } from 'vitest';
import { ok } from '../../src/base/result.ts';
import { figuresOf, itemAt } from '../../src/protocol/edit-types.ts';
import {
  beginTyping,
  goOnDraft,
  nextRevisionDraft,
  type SheetDraft,
  typeNumber,
} from '../../src/protocol/sheet-draft.ts';
import { sheetProblems } from '../../src/protocol/sheet-finish.ts';
import type { Protocol } from '../../src/protocol/types.ts';
import { makeBackup, restoreBackup } from '../../src/runtime/backup/backup.ts';
import { readDrafts } from '../../src/runtime/lead/lead-drafts.ts';
import type { CryptoLike } from '../../src/runtime/lead/lead-passphrase.ts';
import { SheetDesk } from '../../src/runtime/lead/sheet-desk.ts';
import { instruction, PERSON, template } from '../lead/lead-support.ts';
import { etchingGelSheet } from '../protocol/sheet-support.ts';
import { emptyJournal, type Filled, must } from './filled-journal.ts';

const passphrase = 'ebb tide over quiet sand';
const crypto: CryptoLike = {
  subtle: globalThis.crypto.subtle,
  getRandomValues: (array) => globalThis.crypto.getRandomValues(array),
};

async function put(at: Filled, kind: string, id: string, ...values: unknown[]): Promise<void> {
  const { journal, epoch } = at;
  for (const value of values) must(await journal.documents.put({ kind, id, value, epoch }));
}

async function restored(into: Filled, from: Filled) {
  const { file } = must(await makeBackup({ journal: from.journal, crypto, passphrase }));
  return must(await restoreBackup({ ...into, crypto, file, passphrase }));
}

/** A tablet with a desk of its own. A passphrase takes its time, and here only that there is one matters. */
async function deskHere(o: { readonly hasLead: boolean } = { hasLead: true }) {
  const filled = await emptyJournal();
  const { journal, epoch } = filled;
  if (o.hasLead) await put(filled, 'lead-passphrase', 'this-tablet', 'own');
  const sheets = new SheetDesk({
    journal,
    newId: () => 'new-sheet',
    nowWallMs: () => 1_780_000_000_000,
    atDesk: () => ok(epoch),
    by: () => PERSON,
    log: async () => ok(null),
  });
  return { ...filled, sheets };
}

const READER = { by: 'Clinic lead D', on: '2026-05-04' };

/** The sheet as it was read on another tablet: a line read, one typed anew, one said to be gone. */
function sheetDraft(): SheetDraft {
  const draft = goOnDraft(etchingGelSheet());
  const [enamel, most, rinse] = draft.lines;
  if (enamel === undefined || most === undefined || rinse === undefined) throw new Error('lines');
  const typed = typeNumber(beginTyping(most, READER), '45', READER);
  const gone = { ...rinse, answer: 'gone', read: null } as const;
  return { ...draft, lines: [enamel, { ...typed, areWordsRead: true }, gone] };
}

/** The same with a document of instructions behind every number. */
const instructed = (value: unknown): unknown =>
  JSON.parse(
    JSON.stringify(value).replaceAll(/\{"kind":"practice"[^}]*\}/g, JSON.stringify(instruction)),
  );

const confirmed = (protocol: Protocol) =>
  figuresOf(protocol).filter(({ figure }) => figure.basis.kind === 'instructions').length;

describe('a draft of a sheet that a backup brought', () => {
  it('has every line open again; what was typed there is compared here before it is kept', async () => {
    const [here, there] = [await deskHere(), await emptyJournal()];
    await put(there, 'sheet-draft', 'sheet-gel', sheetDraft());
    await restored(here, there);
    const { sheets } = here;
    await sheets.refresh();
    const draft = sheets.draftOf('sheet-gel');
    expect(draft?.lines.map(({ answer, read }) => [answer, read])).toEqual([
      ['open', null],
      ['typed', null],
      ['open', null],
    ]);
    expect(draft?.lines[1]).toMatchObject({ text: '45', asWritten: 'At most 45 s.' });
    expect(draft && sheetProblems(draft)).toEqual([
      { line: 'enamel-most', field: 'asWritten', fault: 'words-not-compared' },
    ]);
    expect((await sheets.keep('sheet-gel')).ok).toBe(false);
  });

  it('changes nothing the second time, and stays as it is where it was begun', async () => {
    const [here, there] = [await deskHere(), await emptyJournal()];
    await put(there, 'sheet-draft', 'sheet-gel', sheetDraft());
    await restored(here, there);
    expect(await restored(here, there)).toMatchObject({ documentsTaken: 0, setApart: 0 });
    const own = nextRevisionDraft({ ...etchingGelSheet(), id: 'own' });
    const lines = own.lines.map((line) => typeNumber(beginTyping(line, READER), '9', READER));
    await put(here, 'sheet-draft', 'own', { ...own, lines });
    expect(await restored(here, here)).toMatchObject({ documentsTaken: 0, setApart: 0 });
    await here.sheets.refresh();
    expect(here.sheets.draftOf('own')?.lines).toEqual(lines);
  });

  it('goes on as it was on a tablet without a lead, as after a loss', async () => {
    const [here, there] = [await deskHere({ hasLead: false }), await emptyJournal()];
    await put(there, 'sheet-draft', 'sheet-gel', sheetDraft());
    await restored(here, there);
    await here.sheets.refresh();
    expect(here.sheets.draftOf('sheet-gel')).toEqual(sheetDraft());
  });
});

describe('a draft of a protocol that a backup brought', () => {
  const spot = { part: 'steps', id: 'etch', key: 'action.targetMs' } as const;
  const head = {
    startHash: 'x',
    begunBy: 'Clinic lead D',
    begunWallMs: 5,
    tablet: 'another',
  };
  const { steps } = template();
  const etch = steps.find(({ id }) => id === 'etch');
  const withBasis = instructed(template());

  const ways: Readonly<Record<string, readonly [start: unknown, edits: readonly unknown[]]>> = {
    start: [withBasis, []],
    number: [
      template(),
      [{ do: 'set-figure', spot, figure: { value: 22_000, basis: instruction } }],
    ],
    basis: [template(), [{ do: 'set-basis', spots: [spot], basis: instruction }]],
    field: [template(), [{ do: 'set-field', spot, value: { value: 22_000, basis: instruction } }]],
    words: [
      template(),
      Object.entries({ ...instruction, source: '', note: '' }).map(([key, text]) => ({
        do: 'set-text',
        spot: { ...spot, key: `action.targetMs.basis.${key}` },
        text,
      })),
    ],
    entry: [
      template(),
      [{ do: 'add', part: 'steps', item: instructed({ ...etch, id: 'again' }), before: null }],
    ],
    document: [template(), [{ do: 'replace', protocol: withBasis }]],
  };

  it('confirms nothing here, in whatever way it was confirmed there', async () => {
    const [here, there] = [await deskHere(), await emptyJournal()];
    for (const [id, [start, edits]] of Object.entries(ways)) {
      await put(there, 'draft', id, { ...head, id, start });
      await put(there, 'draft-edits', id, { edits, done: edits.length });
    }
    const confirmedAt = async ({ journal }: Filled) =>
      (await readDrafts(journal)).map(({ id, history }) => [id, confirmed(history.protocol)]);
    // As they came, each confirms something: else what follows would show nothing.
    const raw = await confirmedAt(there);
    expect(raw.map(([id]) => id).toSorted()).toEqual(Object.keys(ways).toSorted());
    expect(raw.filter(([, count]) => count === 0)).toEqual([]);
    await restored(here, there);
    expect(await confirmedAt(here)).toEqual(raw.map(([id]) => [id, 0]));
    expect(await restored(here, there)).toMatchObject({ documentsTaken: 0, setApart: 0 });
  });

  it('keeps the numbers that were typed there', async () => {
    const [here, there] = [await deskHere(), await emptyJournal()];
    const [start, edits] = ways['number'] ?? [];
    await put(there, 'draft', 'theirs', { ...head, id: 'theirs', start });
    await put(there, 'draft-edits', 'theirs', { edits, done: 1 });
    await restored(here, there);
    const [draft] = await readDrafts(here.journal);
    const step = draft && itemAt(draft.history.protocol, { part: 'steps', id: 'etch' });
    expect(step).toMatchObject({ action: { targetMs: { value: 22_000 } } });
  });
});
