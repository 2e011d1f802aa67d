import { describe, expect, it } from 'vitest';
import { problem } from '../../src/base/problem.ts';
import { err, ok } from '../../src/base/result.ts';
import { answerSame, nextRevisionDraft } from '../../src/protocol/sheet-draft.ts';
import type { ProductSheet } from '../../src/protocol/sheet-types.ts';
import { asFact, keepFact, listFacts } from '../../src/runtime/facts/fact.ts';
import { protocolHash } from '../../src/runtime/lead/lead-documents.ts';
import { SheetDesk } from '../../src/runtime/lead/sheet-desk.ts';
import { makeDraft, sheetEffects } from '../../src/runtime/lead/sheet-take-over.ts';
import {
  readSheets,
  SHEET,
  sheetFor,
  sheetsOf,
  stockDefaultsOf,
} from '../../src/runtime/lead/sheets.ts';
import { etchingGelSheet } from '../protocol/sheet-support.ts';
import { openDesk, PASSPHRASE, PERSON, type TestDesk, template } from './lead-support.ts';

const READER = { by: PERSON, on: '2026-11-29' };

/** A tablet whose desk stands open. A passphrase takes its time, and only the lead's own desk asks for it. */
async function open(from?: TestDesk['device']) {
  const test = await openDesk(from);
  const { journal, epoch } = test;
  const sheets = new SheetDesk({
    journal,
    newId: () => 'new-sheet',
    nowWallMs: () => 1_780_000_000_000,
    atDesk: () => ok(epoch),
    by: () => PERSON,
    log: async () => ok(null),
  });
  return { ...test, sheets };
}

async function openLead() {
  const test = await openDesk();
  await test.desk.setPassphrase({ person: PERSON, passphrase: PASSPHRASE });
  return { ...test, sheets: test.desk.sheets };
}

/** A revision with every line read as the same. */
async function keepRevision({ sheets }: { readonly sheets: SheetDesk }, revision: string) {
  const draft = nextRevisionDraft(etchingGelSheet());
  const lines = draft.lines.map((line) => answerSame(line, READER));
  await sheets.begin({ ...draft, revision, lines });
  const kept = await sheets.keep(draft.id);
  if (!kept.ok) throw new Error(`${kept.error.place} ${kept.error.came}`);
  return kept.value;
}

/** As another tablet's desk wrote it, knowing nothing of this one. */
async function fromElsewhere(
  test: Pick<TestDesk, 'journal' | 'epoch'>,
  sheet: ProductSheet,
  after: readonly string[] = [],
) {
  const fact = asFact({
    kind: SHEET,
    item: sheet.id,
    said: { type: 'written', sheet },
    after,
    tablet: 'another',
    by: 'Clinic lead D',
    atWallMs: 5,
  });
  await keepFact(test.journal, fact, test.epoch);
}

describe('product sheets on the tablet', () => {
  it('keeps each revision as a fact that follows the one before, and logs it', async () => {
    const test = await openLead();
    await keepRevision(test, '2026-05');
    const second = await keepRevision(test, '2026-11');
    const { entries } = test.sheets.state.getState();
    expect(entries).toHaveLength(1);
    expect(entries[0]?.current.map(({ sheet }) => sheet)).toEqual([second]);
    expect(entries[0]?.all.map(({ sheet }) => sheet.revision)).toEqual(['2026-11', '2026-05']);
    expect(test.sheets.state.getState().drafts).toEqual([]);
    await test.desk.refresh();
    expect(test.desk.state.getState().log.entries.at(-1)).toMatchObject({
      deed: 'sheet-kept',
      by: PERSON,
      values: { revision: '2026-11' },
    });
  });

  it('has what was typed again after a reload, however far it was', async () => {
    const test = await open();
    const draft = { ...nextRevisionDraft(etchingGelSheet()), revision: '20' };
    await test.sheets.begin(draft);
    // Typed faster than the store answers: only the last state has to be there.
    void test.sheets.saveDraft({ ...draft, revision: '2026' });
    await test.sheets.saveDraft({ ...draft, revision: '2026-1' });
    const again = await open(test.device);
    await again.sheets.refresh();
    expect(again.sheets.draftOf(draft.id)).toEqual({ ...draft, revision: '2026-1' });
  });

  it('shows what was typed also where the store has no room for it', async () => {
    const test = await open();
    const full = problem('store', 'room', 'none', 'full');
    test.journal.documents.put = async () => err({ ...full, code: 'quota' }) as never;
    const draft = nextRevisionDraft(etchingGelSheet());
    expect((await test.sheets.saveDraft(draft)).ok).toBe(false);
    await test.sheets.refresh();
    expect(test.sheets.draftOf(draft.id)).toEqual(draft);
  });

  it('writes nothing while the desk is closed', async () => {
    const test = await openLead();
    await test.desk.close('by-hand');
    const saved = await test.sheets.saveDraft(nextRevisionDraft(etchingGelSheet()));
    expect(saved.ok ? '' : saved.error.code).toBe('desk-closed');
    expect(test.sheets.state.getState().drafts).toEqual([]);
  });

  it('shows two revisions of one number side by side, and what another desk read as unread', async () => {
    const test = await open();
    await keepRevision(test, '2026-11');
    const theirs = { ...etchingGelSheet(), revision: '2026-11' };
    await fromElsewhere(test, theirs);
    await test.sheets.refresh();
    const { current = [] } = test.sheets.state.getState().entries[0] ?? {};
    expect(current.map(({ isOwn, sheet }) => [isOwn, sheet.revision])).toEqual(
      expect.arrayContaining([
        [true, '2026-11'],
        [false, '2026-11'],
      ]),
    );
    const reads = (isOwn: boolean) =>
      current.find((kept) => kept.isOwn === isOwn)?.sheet.lines.map(({ read }) => read?.by);
    expect(reads(true)).toEqual([PERSON, PERSON, PERSON]);
    expect(reads(false)).toEqual([undefined, undefined, undefined]);
    // Whoever reads it at this desk settles it: the next revision follows both.
    await keepRevision(test, '2026-12');
    const { entries } = test.sheets.state.getState();
    expect(entries[0]?.current.map(({ sheet }) => sheet.revision)).toEqual(['2026-12']);
  });

  it('stays as it was read here beside a later one of another desk, until it is read here', async () => {
    const test = await open();
    const own = await keepRevision(test, '2026-05');
    const listed = await listFacts(test.journal, SHEET);
    const after = listed.ok ? listed.value.facts.map(({ id }) => id) : [];
    const theirs = { ...etchingGelSheet(), revision: '2026-11' };
    await fromElsewhere(test, theirs, after);
    await test.sheets.refresh();
    const current = () => test.sheets.state.getState().entries[0]?.current ?? [];
    expect(current().map(({ isOwn, sheet }) => [isOwn, sheet.revision])).toEqual([
      [true, '2026-05'],
      [false, '2026-11'],
    ]);
    expect(await sheetFor(test.journal, '09506000134352')).toEqual(own);
    const next = await keepRevision(test, '2026-12');
    expect(current().map(({ sheet }) => sheet)).toEqual([next]);
  });

  it('is its own where another desk says the same word for word', async () => {
    const test = await open();
    const own = await keepRevision(test, '2026-05');
    const listed = await listFacts(test.journal, SHEET);
    await fromElsewhere(test, own, listed.ok ? listed.value.facts.map(({ id }) => id) : []);
    await test.sheets.refresh();
    const { current = [] } = test.sheets.state.getState().entries[0] ?? {};
    expect(current.map(({ isOwn, sheet }) => [isOwn, sheet])).toEqual([[true, own]]);
  });

  it('is put away, and comes back as it was or with its next revision', async () => {
    const test = await open();
    await keepRevision(test, '2026-05');
    const [entry] = test.sheets.state.getState().entries;
    if (entry === undefined) throw new Error('no sheet');
    await test.sheets.putAway(entry);
    const { entries, putAway } = test.sheets.state.getState();
    expect(entries).toEqual([]);
    expect(putAway).toEqual([entry]);
    await test.sheets.putBack(entry);
    expect(test.sheets.state.getState().entries[0]?.current[0]?.sheet).toEqual(
      entry.current[0]?.sheet,
    );
    await test.sheets.putAway(entry);
    await keepRevision(test, '2026-11');
    expect(test.sheets.state.getState().entries).toHaveLength(1);
  });

  it('counts what cannot be read, and leaves it stored', async () => {
    const test = await open();
    await fromElsewhere(test, { ...etchingGelSheet(), lines: [{ id: 'x' }] } as never);
    expect(await readSheets(test.journal)).toEqual({ entries: [], putAway: [], damaged: 1 });
    const listed = await listFacts(test.journal, SHEET);
    expect(listed.ok ? listed.value.facts.length : 0).toBe(1);
  });
});

describe('a label and the stock', () => {
  it('finds the sheet of a device identifier', async () => {
    const test = await open();
    const sheet = await keepRevision(test, '2026-11');
    expect(await sheetFor(test.journal, '09506000134352')).toEqual(sheet);
    expect(await sheetFor(test.journal, '09506000134369')).toBeNull();
    const { entries } = test.sheets.state.getState();
    // Printed with 13 digits, the same article.
    expect(sheetsOf(entries, '9506000134352')).toHaveLength(1);
  });

  it('offers what the sheet says about keeping it, the shorter life and the longer warming', () => {
    const sheet = etchingGelSheet();
    const line = { ...sheet.lines[0], bound: 'most', asWritten: 'x', spots: [] } as const;
    const lines = [
      { ...line, id: 'a', group: 'storage', value: 2, unit: 'C', bound: 'least' },
      { ...line, id: 'b', group: 'storage', value: 8, unit: 'C' },
      { ...line, id: 'c', group: 'opened-for', value: 6, unit: 'months' },
      { ...line, id: 'd', group: 'opened-for', value: 90, unit: 'days' },
      { ...line, id: 'e', group: 'warm-up', value: 1, unit: 'h', bound: 'least' },
    ] as const;
    expect(stockDefaultsOf({ ...sheet, lines })).toEqual({
      materialClass: sheet.materialClass,
      refrigerated: true,
      useWithinDays: 90,
      warmUpMinutes: 60,
    });
    expect(stockDefaultsOf(sheet)).toEqual({ materialClass: sheet.materialClass });
    // What nobody read here fills in nothing, and is not the longer of two.
    const { read: _, ...unread } = { ...line, id: 'f', group: 'warm-up', value: 3, unit: 'h' };
    const more = [...lines, unread] as ProductSheet['lines'];
    expect(stockDefaultsOf({ ...sheet, lines: more })).toMatchObject({ warmUpMinutes: 60 });
    const none = lines.map(({ read: __, ...rest }) => rest);
    expect(stockDefaultsOf({ ...sheet, lines: none })).toEqual({
      materialClass: sheet.materialClass,
    });
  });
});

describe('drafts from a sheet', () => {
  it('makes one draft of each protocol concerned, and goes on with it the next time', async () => {
    const test = await openLead();
    const sheet = await keepRevision(test, '2026-11');
    const protocols = [{ protocol: template(), hash: protocolHash(template()) }];
    const effects = () =>
      sheetEffects(sheet, { protocols, drafts: test.desk.state.getState().drafts });
    const [effect] = effects();
    if (effect === undefined) throw new Error('nothing changes');
    const first = await makeDraft(test.desk, effect, effect.changes.slice(0, 1));
    const [rest] = effects();
    if (rest === undefined) throw new Error('nothing is left');
    const second = await makeDraft(test.desk, rest, rest.changes);
    expect(second).toEqual(first);
    expect(effects()).toEqual([]);
    expect(test.desk.state.getState().drafts).toHaveLength(1);
    const [draft] = test.desk.state.getState().drafts;
    expect(draft?.history.edits.map((edit) => edit.do)).toEqual(['set-figure', 'set-figure']);
  });
});
