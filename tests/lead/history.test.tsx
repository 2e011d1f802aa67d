// @vitest-environment jsdom
// Revisions of a protocol: each is read with its bases, compared, handed on, and the start of a draft.
import { act, screen, within } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import { beforeAll, describe, expect, it, vi } from 'vitest';
import { addEdit } from '../../src/protocol/edit-history.ts';
import { figuresOf } from '../../src/protocol/edit-types.ts';
import { protocolHash } from '../../src/runtime/lead/lead-documents.ts';
import { ancestorHashes } from '../../src/runtime/lead/lead-revisions.ts';
import { LeadDesk } from '../../src/ui/lead/LeadDesk.tsx';
import { historyOf } from '../../src/ui/lead/lead-places.ts';
import { editorWords } from '../../src/words/editor-words.ts';
import { SMALL_WHOLE } from '../engine/fixture.ts';
import { type FakeSession, fakeSession, show } from '../ui-screens/fake-session.tsx';
import { instruction, openDesk, PASSPHRASE, PERSON, type TestDesk } from './lead-support.ts';
import { dialogsInJsdom, plain } from './show-desk.tsx';

vi.setConfig({ testTimeout: 30_000 });
beforeAll(dialogsInJsdom);

/** A small protocol that has no faults: its etch is 20 s, at most 30 s. */
const template = () => SMALL_WHOLE;
const ID = SMALL_WHOLE.id;
const FIRST = SMALL_WHOLE.revision + 1;

/** Confirms the etch target of the template at this many seconds; answers with the hash. */
async function confirmEtch({ desk }: TestDesk, seconds: number): Promise<string> {
  const begun = await desk.beginDraft(template());
  if (!begun.ok) throw new Error(begun.error.code);
  const draft = desk.state.getState().drafts.find((d) => d.id === begun.value);
  if (draft === undefined) throw new Error('no draft');
  const spot = { part: 'steps', id: 'etch', key: 'action.targetMs' } as const;
  const figure = { value: seconds * 1000, basis: instruction };
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

async function confirmedTwice() {
  const test = await openDesk(undefined, { templates: [template()] });
  await test.desk.setPassphrase({ person: PERSON, passphrase: PASSPHRASE });
  const first = await confirmEtch(test, 15);
  return { test, first, second: await confirmEtch(test, 22) };
}

/** Made once: a passphrase is slow on purpose. */
let kept: ReturnType<typeof confirmedTwice> | null = null;

/** A desk that confirmed 15 s, then 22 s, shown at a page of the history. */
async function shown(path: (first: string, second: string) => readonly string[]) {
  kept ??= confirmedTwice();
  const { test, first, second } = await kept;
  // It closes with the page of the test before.
  await test.desk.open(PASSPHRASE);
  const lead = Promise.resolve(test.desk);
  const session = { ...fakeSession(), lead: () => lead };
  const fake: FakeSession = session;
  await act(async () => {
    show(<LeadDesk />, { session: fake, path: historyOf(ID, ...path(first, second)) });
  });
  await screen.findByRole('heading', { level: 1 });
  return { ...test, first, second };
}

describe('the history of a protocol', () => {
  it('lists every revision by number and hash, how it stands, and the template', async () => {
    const { first, second } = await shown(() => []);
    const list = within(await screen.findByRole('list', { name: 'Revisions' }));
    const rows = list.getAllByRole('listitem').map((row) => plain(row.textContent));
    expect(rows).toHaveLength(3);
    expect(rows[0]).toContain(`Revision ${FIRST + 1}, ${second.slice(0, 8)}`);
    expect(rows[0]).toContain('In use');
    expect(rows[1]).toContain(`Revision ${FIRST}, ${first.slice(0, 8)}`);
    expect(rows[1]).toContain(`Retired: followed by revision ${FIRST + 1}`);
    expect(rows[2]).toContain(`Template, revision ${template().revision}`);
    for (const row of rows.slice(0, 2)) expect(row).toContain(PERSON);
  });

  it('shows an earlier revision with every number and its basis', async () => {
    const { first } = await shown((hash) => [hash]);
    expect(screen.getByText(`Hash (SHA-256): ${first}`)).toBeVisible();
    const etch = screen
      .getAllByRole('row')
      .map((row) => plain(row.textContent))
      .filter((row) => row.includes('15 s') && row.includes('Etching gel, instructions for use'));
    expect(etch.length).toBeGreaterThan(0);
  });

  it('compares it with what is in use, with any other, and with the template', async () => {
    const { second } = await shown((hash) => [hash, 'with']);
    const select = screen.getByRole<HTMLSelectElement>('combobox', { name: 'Compare with' });
    expect(select.value).toBe(second);
    const lines = () =>
      within(screen.getByRole('list', { name: editorWords.difference }))
        .getAllByRole('listitem')
        .map((row) => plain(row.textContent));
    expect(lines()).toEqual([expect.stringMatching(/target 15 s → 22 s$/)]);
    await userEvent.selectOptions(select, protocolHash(template()));
    expect(lines().length).toBeGreaterThan(1);
    expect(lines().some((line) => line.includes('target 15 s → 20 s'))).toBe(true);
  });

  it('hands it on as a file that names only what came before it as where it came from', async () => {
    const { desk, first, second } = await shown(() => []);
    const { revisions, templates } = desk.state.getState();
    const older = revisions.find((r) => r.hash === first);
    const newer = revisions.find((r) => r.hash === second);
    if (older === undefined || newer === undefined) throw new Error('no revisions');
    const shipped = protocolHash(template());
    expect(ancestorHashes(older.protocol, { revisions, templates })).toEqual([shipped]);
    expect(ancestorHashes(newer.protocol, { revisions, templates })).toEqual([first, shipped]);
    const text = await desk.exportText(older.protocol);
    expect(text.ok && JSON.parse(text.value)).toMatchObject({ hash: first, ancestors: [shipped] });
  });

  it('says of a hash that is not here that it is not', async () => {
    await shown(() => ['0'.repeat(64)]);
    expect(screen.getByText('This revision is not on this tablet.')).toBeVisible();
  });

  it('puts a retired one back in force, and only a retired one can be', async () => {
    const { desk, first } = await shown(() => []);
    const back = screen.getByRole('button', { name: /^Put Revision .* back in force$/ });
    await userEvent.click(back);
    const { revisions } = desk.state.getState();
    expect(revisions.find((r) => r.hash === first)?.retirement).toBeNull();
    expect(screen.queryByRole('button', { name: /^Put Revision/ })).toBeNull();
    // New cases go on with the newest.
    expect(screen.getByText('Not retired. A newer revision is in use')).toBeVisible();
  });

  it('begins a draft that holds what it held, with its bases, and gets the next number', async () => {
    const { desk, first } = await shown((hash) => [hash]);
    await userEvent.click(
      screen.getByRole('button', { name: new RegExp(`^Begin a draft from Revision ${FIRST}`) }),
    );
    const draft = desk.state.getState().drafts.at(-1);
    expect(draft?.startHash).toBe(first);
    const etch = draft?.history.protocol.steps.find(({ id }) => id === 'etch');
    expect(etch?.action).toMatchObject({ targetMs: { value: 15_000, basis: instruction } });
    const confirmed = await desk.confirm(draft?.id ?? '');
    expect(confirmed).toMatchObject({ ok: true, value: { revision: FIRST + 2 } });
  });
});
