import { describe, expect, it } from 'vitest';
import { present } from '../../src/base/assert.ts';
import { canonicalText } from '../../src/protocol/canonical-text.ts';
import { addEdit, undoEdit } from '../../src/protocol/edit-history.ts';
import { figuresOf } from '../../src/protocol/edit-types.ts';
import { IDLE_MS } from '../../src/runtime/lead/desk-idle.ts';
import { verifyLeadLog } from '../../src/runtime/lead/lead-log.ts';
import { readRevisions, sayOfProtocol } from '../../src/runtime/lead/lead-revisions.ts';
import { hashText } from '../../src/storage/hash-chain.ts';
import { deedWords } from '../../src/words/lead-words.ts';
import {
  instruction,
  openDesk,
  PASSPHRASE,
  PERSON,
  type TestDesk,
  template,
} from './lead-support.ts';

async function openedDesk(): Promise<TestDesk> {
  const test = await openDesk();
  expect(await test.desk.setPassphrase({ person: PERSON, passphrase: PASSPHRASE })).toMatchObject({
    ok: true,
  });
  return test;
}

async function draftWith(test: TestDesk, o: { readonly isConfirmed: boolean }): Promise<string> {
  const begun = await test.desk.beginDraft(template());
  if (!begun.ok) throw new Error(begun.error.code);
  const draft = test.desk.state.getState().drafts.find((d) => d.id === begun.value);
  if (draft === undefined) throw new Error('no draft');
  const spot = { part: 'steps', id: 'etch', key: 'action.targetMs' } as const;
  const edited = addEdit(draft.history, {
    do: 'set-figure',
    spot,
    figure: { value: 15_000, basis: instruction },
  });
  if (!edited.ok) throw new Error(edited.error.place);
  let history = edited.value;
  if (o.isConfirmed) {
    const spots = figuresOf(history.protocol)
      .filter((f) => f.binds)
      .map((f) => f.spot);
    const all = addEdit(history, { do: 'set-basis', spots, basis: instruction });
    if (!all.ok) throw new Error(all.error.place);
    history = all.value;
  }
  await test.desk.saveDraft(begun.value, history);
  return begun.value;
}

const deeds = (test: TestDesk) => test.desk.state.getState().log.entries.map((entry) => entry.deed);

describe('the passphrase', () => {
  it('is stored only as salt and derived key, with 600,000 rounds', async () => {
    const { device } = await openedDesk();
    const stored = JSON.stringify([...device.documents.values()]);
    expect(stored).not.toContain(PASSPHRASE);
    expect(stored).toContain('"rounds":600000');
  });

  it('when wrong is refused, logged, and from the third on waited for, twice as long each time', async () => {
    const test = await openedDesk();
    await test.desk.close('by-hand');
    for (const _ of [1, 2, 3]) {
      expect(await test.desk.open('not it at all')).toMatchObject({
        error: { code: 'wrong-passphrase' },
      });
    }
    expect(await test.desk.open(PASSPHRASE)).toMatchObject({
      error: { code: 'wait', came: '5000' },
    });
    await test.pass(5_000);
    expect(await test.desk.open('still not it')).toMatchObject({
      error: { code: 'wrong-passphrase' },
    });
    await test.pass(9_999);
    expect(await test.desk.open(PASSPHRASE)).toMatchObject({ error: { code: 'wait' } });
    await test.pass(1);
    expect(await test.desk.open(PASSPHRASE)).toMatchObject({ ok: true });
    expect(deeds(test).filter((deed) => deed === 'passphrase-refused')).toHaveLength(4);
  }, 20_000);

  it('cannot be set over another one, but reset with a reason that stays in the log', async () => {
    const test = await openedDesk();
    await test.desk.confirm(await draftWith(test, { isConfirmed: true }));
    await test.desk.close('left');
    const other = { person: 'Somebody else', passphrase: 'another phrase' };
    expect(await test.desk.setPassphrase(other)).toMatchObject({ error: { code: 'already-set' } });
    expect(await test.desk.resetPassphrase({ ...other, reason: ' ' })).toMatchObject({ ok: false });
    expect(test.desk.state.getState().isOpen).toBe(false);
    expect(await test.desk.resetPassphrase({ ...other, reason: 'forgotten' })).toMatchObject({
      ok: true,
    });
    expect(deeds(test)).toContain('passphrase-reset');
    expect(test.desk.state.getState().revisions[0]).toMatchObject({ beforeReset: true });
  });
});

describe('the desk', () => {
  it('closes itself after five minutes without a touch, and says so in the log', async () => {
    const test = await openedDesk();
    await test.pass(IDLE_MS - 1);
    test.desk.touch();
    await test.pass(IDLE_MS - 1);
    expect(test.desk.state.getState().isOpen).toBe(true);
    await test.pass(1);
    expect(test.desk.state.getState()).toMatchObject({ isOpen: false, closedBecause: 'idle' });
    expect(test.desk.state.getState().log.entries.at(-1)).toMatchObject({
      deed: 'closed',
      values: { why: 'idle' },
    });
    expect(await test.desk.beginDraft(template())).toMatchObject({
      error: { code: 'desk-closed' },
    });
  });

  it('confirms only when an instruction stands behind every number that binds', async () => {
    const test = await openedDesk();
    const half = await draftWith(test, { isConfirmed: false });
    expect(await test.desk.confirm(half)).toMatchObject({ error: { code: 'unconfirmed-figures' } });
    expect(await readRevisions(test.journal)).toMatchObject({ all: [] });
    const confirmed = await test.desk.confirm(await draftWith(test, { isConfirmed: true }));
    expect(confirmed).toMatchObject({ ok: true, value: { revision: 2 } });
  });

  it('keeps an edit that is made while the desk is read again', async () => {
    const test = await openedDesk();
    const id = await draftWith(test, { isConfirmed: false });
    const shown = () => test.desk.state.getState().drafts.find((draft) => draft.id === id)?.history;
    const before = present(shown(), 'a draft');
    const { documents } = test.journal;
    const get = documents.get.bind(documents);
    let isRead = (): void => undefined;
    const hasRead = new Promise<void>((resolve) => {
      isRead = resolve;
    });
    let goOn = (): void => undefined;
    const mayGoOn = new Promise<void>((resolve) => {
      goOn = resolve;
    });
    // What was read of the edits comes late, as from a slow disk.
    documents.get = async (kind, o) => {
      const read = await get(kind, o);
      if (kind !== 'draft-edits') return read;
      isRead();
      await mayGoOn;
      return read;
    };
    const refreshed = test.desk.refresh();
    await hasRead;
    await test.desk.saveDraft(id, undoEdit(before));
    goOn();
    await refreshed;
    expect(shown()?.done).toBe(before.done - 1);
    await test.desk.refresh();
    expect(shown()?.done).toBe(before.done - 1);
  });

  it('logs why a way back was taken out, once that is confirmed', async () => {
    const test = await openedDesk();
    const id = await draftWith(test, { isConfirmed: true });
    const draft = test.desk.state.getState().drafts.find((d) => d.id === id);
    const [way] = draft?.start.waysBack ?? [];
    if (draft === undefined || way === undefined) throw new Error('no way back');
    const edit = { do: 'remove', part: 'waysBack', id: way.id, reason: 'We stop.' } as const;
    const history = addEdit(draft.history, edit);
    if (!history.ok) throw new Error(history.error.place);
    await test.desk.saveDraft(id, history.value);
    expect(deeds(test)).not.toContain('entry-removed');
    expect(await test.desk.confirm(id)).toMatchObject({ ok: true });
    const entry = test.desk.state
      .getState()
      .log.entries.find(({ deed }) => deed === 'entry-removed');
    expect(entry?.values).toMatchObject({ entry: way.title, reason: 'We stop.', revision: 2 });
    expect(entry && deedWords(entry)).toMatch(/^Removed “.*” from .*, revision 2: We stop\.$/);
    expect(test.desk.state.getState().log.broken).toBe(0);
  });

  it('gives a revision the SHA-256 of its canonical JSON and retires the one before', async () => {
    const test = await openedDesk();
    await test.desk.confirm(await draftWith(test, { isConfirmed: true }));
    await test.desk.confirm(await draftWith(test, { isConfirmed: true }));
    const [third, second] = test.desk.state.getState().revisions;
    expect(third).toMatchObject({ protocol: { revision: 3 }, retirement: null });
    expect(second).toMatchObject({ protocol: { revision: 2 }, retirement: { by: PERSON } });
    expect(third?.hash).toBe(hashText(canonicalText(third?.protocol)));
  });

  it('keeps drafts with all their edits for the next start', async () => {
    const test = await openedDesk();
    const id = await draftWith(test, { isConfirmed: true });
    const again = await openDesk(test.device);
    const draft = again.desk.state.getState().drafts.find((d) => d.id === id);
    expect(draft?.history.edits).toHaveLength(2);
    expect(draft?.history).toEqual(test.desk.state.getState().drafts[0]?.history);
  });
});

describe('what was tampered with', () => {
  it('is refused and logged once: a stored revision whose numbers were changed', async () => {
    const test = await openedDesk();
    const confirmed = await test.desk.confirm(await draftWith(test, { isConfirmed: true }));
    expect(confirmed.ok).toBe(true);
    const [key, stored] =
      [...test.device.documents].find(
        ([, d]) => d.kind === 'fact-protocol' && JSON.stringify(d.value).includes('"written"'),
      ) ?? [];
    if (key === undefined || stored === undefined) throw new Error('nothing is stored');
    const value = JSON.parse(JSON.stringify(stored.value).replace('"value":15000', '"value":5000'));
    test.device.documents.set(key, { ...stored, value });
    await test.desk.refresh();
    await test.desk.refresh();
    const { revisions, refused } = test.desk.state.getState();
    expect(revisions).toEqual([]);
    expect(refused).toHaveLength(1);
    expect(deeds(test).filter((deed) => deed === 'stored-refused')).toHaveLength(1);
    expect(test.desk.nextRevision(template().id)).toBe(3);
  });

  it('is refused: an approval that was never given at the desk', async () => {
    const test = await openedDesk();
    const protocol = { ...template(), revision: 7 };
    const approval = { hash: hashText(canonicalText(protocol)), by: PERSON, onWallMs: 1 };
    const { journal, epoch } = test;
    await sayOfProtocol(
      { journal, epoch: () => epoch, nowWallMs: () => 1 },
      {
        item: protocol.id,
        said: [
          { type: 'written', protocol },
          { type: 'confirmed', ...approval },
        ],
        by: PERSON,
      },
    );
    await test.desk.refresh();
    expect(test.desk.state.getState().revisions).toEqual([]);
    expect(deeds(test)).toContain('stored-refused');
  });

  it('is refused and logged with its place: a file that was changed on the way', async () => {
    const test = await openedDesk();
    const text = await test.desk.exportText(template());
    if (!text.ok) throw new Error(text.error.code);
    const changed = text.value.replace('"value": 20000', '"value": 90000');
    expect(changed).not.toBe(text.value);
    expect(await test.desk.importText(changed)).toMatchObject({
      error: { code: 'changed', place: 'file.protocol' },
    });
    expect(test.desk.state.getState().log.entries.at(-1)).toMatchObject({
      deed: 'import-refused',
      values: { place: 'file.protocol', code: 'changed' },
    });
    expect(test.desk.state.getState().drafts).toEqual([]);
    expect(await test.desk.importText(text.value)).toMatchObject({ ok: true });
    expect(test.desk.state.getState().drafts).toMatchObject([{ origin: 'import' }]);
    expect(test.desk.state.getState().revisions).toEqual([]);
  });

  it('shows in the log: an entry altered, taken away or put in', async () => {
    const test = await openedDesk();
    await test.desk.close('by-hand');
    await test.desk.open(PASSPHRASE);
    const { entries } = test.desk.state.getState().log;
    expect(verifyLeadLog(entries)).toMatchObject({ broken: 0 });
    const [first, ...rest] = entries;
    expect(verifyLeadLog(rest).broken).toBeGreaterThan(0);
    expect(verifyLeadLog([{ ...first, by: 'Nobody' }, ...rest]).broken).toBeGreaterThan(0);
    expect(verifyLeadLog([first, first, ...rest]).broken).toBeGreaterThan(0);
  });
});
