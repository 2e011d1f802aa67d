// @vitest-environment jsdom
import { act, cleanup, screen, within } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import { beforeAll, describe, expect, it, vi } from 'vitest';
import { itemAt } from '../../src/protocol/edit-types.ts';
import { answerSame, nextRevisionDraft } from '../../src/protocol/sheet-draft.ts';
import { asFact, keepFact } from '../../src/runtime/facts/fact.ts';
import { protocolHash } from '../../src/runtime/lead/lead-documents.ts';
import { LeadDesk } from '../../src/ui/lead/LeadDesk.tsx';
import { etchingGelSheet } from '../protocol/sheet-support.ts';
import { type FakeSession, fakeSession, show } from '../ui-screens/fake-session.tsx';
import { openDesk, PASSPHRASE, PERSON, type TestDesk, template } from './lead-support.ts';
import { dialogsInJsdom, plain } from './show-desk.tsx';

vi.setConfig({ testTimeout: 60_000 });

beforeAll(dialogsInJsdom);

type Shown = TestDesk & { readonly where: () => string | undefined };

async function showOn(path: string, test: TestDesk): Promise<Shown> {
  const protocol = template();
  const entry = {
    protocol,
    hash: protocolHash(protocol),
    approval: null,
    origin: 'template',
  } as const;
  const lead = Promise.resolve(test.desk);
  const copy = { ...protocol, id: 'our-veneers', title: 'Our veneers' };
  const session: FakeSession = {
    ...fakeSession({ protocols: [entry, { ...entry, protocol: copy, hash: protocolHash(copy) }] }),
    lead: () => lead,
  } as FakeSession;
  let where: () => string | undefined = () => undefined;
  await act(async () => {
    where = show(<LeadDesk />, { session, path }).where;
  });
  return { ...test, where };
}

async function deskWithSheet(): Promise<TestDesk> {
  const test = await openDesk();
  await test.desk.setPassphrase({ person: PERSON, passphrase: PASSPHRASE });
  const draft = nextRevisionDraft(etchingGelSheet());
  const reader = { by: PERSON, on: '2026-05-04' };
  const lines = draft.lines.map((line) => answerSame(line, reader));
  await test.desk.sheets.begin({ ...draft, revision: '2026-05', lines });
  const kept = await test.desk.sheets.keep(draft.id);
  if (!kept.ok) throw new Error(kept.error.came);
  return test;
}

const answer = (line: RegExp, name: string) =>
  within(screen.getByRole('group', { name: line })).getByRole('radio', { name });

const ON_ENAMEL = /on enamel, target/;

describe('the pages of the product sheets', () => {
  it('brings in a new revision: what is answered changes, what is not confirms nothing', async () => {
    const user = userEvent.setup();
    const shown = await showOn('/lead/sheets', await deskWithSheet());
    await user.click(await screen.findByRole('button', { name: /^New revision of Etching gel/ }));
    await user.click(screen.getByLabelText('Revision'));
    await user.paste('2026-11');
    await user.click(answer(ON_ENAMEL, 'Changed'));
    // The field of the number has the focus already.
    await user.keyboard('25');
    expect(plain(screen.getByText(/^Understood/).textContent)).toBe('Understood: 25 s');
    const page = screen.getByLabelText('Page');
    expect(page).toHaveValue('');
    expect(page).toHaveAccessibleDescription('Before: 2');
    await user.click(page);
    await user.keyboard('3');
    await user.click(answer(/on enamel, at most/, 'Same'));
    expect(screen.getByText('2 of 3 answered')).toBeVisible();
    await user.click(screen.getByRole('button', { name: 'Keep this sheet' }));
    const words = screen.getByLabelText('As written there');
    expect(words).toHaveValue('Leave on enamel for 25 seconds.');
    expect(words).toHaveAccessibleDescription(/Compare these words with the document\./);
    expect(words).toHaveFocus();
    await user.click(screen.getByRole('checkbox', { name: 'It reads like this' }));
    await user.click(screen.getByRole('button', { name: 'Keep this sheet' }));
    expect(shown.where()).toBe('/lead/sheets/sheet-gel/changes');

    const change = screen.getByRole('checkbox', { name: /^Etch, target/ });
    expect(plain(change.closest('label')?.textContent ?? '')).toContain(
      'Etch, target: 30 s, then 25 s“Leave on enamel for 25 seconds.”, page 3',
    );
    expect(
      screen.getByText('1 number was not read in this revision. It confirms nothing.'),
    ).toBeVisible();
    await user.click(screen.getByRole('button', { name: 'Make the draft' }));
    const link = await screen.findByRole('link', { name: `Confirm: ${template().title}` });
    const [draft] = shown.desk.state.getState().drafts;
    expect(link).toHaveAttribute('href', `/lead/draft/${draft?.id}/confirm`);
    const etch = draft && itemAt(draft.history.protocol, { part: 'steps', id: 'etch' });
    expect(etch).toMatchObject({
      action: {
        targetMs: { value: 25_000, basis: { revision: '2026-11', page: '3', confirmedBy: PERSON } },
        maxMs: { value: 60_000, basis: { revision: '2026-11', asWritten: 'At most 60 s.' } },
      },
    });
    const rinse = draft && itemAt(draft.history.protocol, { part: 'steps', id: 'etch-rinse' });
    expect(rinse).toEqual(itemAt(template(), { part: 'steps', id: 'etch-rinse' }));
  });

  it('types a new sheet, says at each field what it needs, and has it again after a reload', async () => {
    const user = userEvent.setup();
    const test = await openDesk();
    await test.desk.setPassphrase({ person: PERSON, passphrase: PASSPHRASE });
    const shown = await showOn('/lead/sheets', test);
    await user.click(await screen.findByRole('button', { name: 'New sheet' }));
    await user.click(screen.getByRole('button', { name: 'Add: Etching and abrading' }));
    await user.click(screen.getByRole('button', { name: 'Keep this sheet' }));
    expect(screen.getByLabelText('Material class')).toHaveFocus();
    expect(screen.getByLabelText('Number')).toHaveAccessibleDescription(/Give the number\./);
    await user.selectOptions(
      screen.getByLabelText('Material class'),
      'phosphoric acid gel, 30 to 40 %',
    );
    await user.type(screen.getByLabelText('Document'), 'Gel');
    // The last digit of the article is 2.
    await user.click(screen.getByLabelText('Device identifiers'));
    await user.paste('A1B2 09506000134353');
    expect(screen.getByLabelText('Device identifiers')).toHaveAccessibleDescription(
      /The check digit of 09506000134353 is wrong/,
    );
    await user.type(screen.getByLabelText('Number'), '30');
    // Leaving the page closes the desk.
    cleanup();
    await test.desk.open(PASSPHRASE);
    await showOn(shown.where() ?? '', test);
    expect(await screen.findByLabelText('Document')).toHaveValue('Gel');
    expect(screen.getByLabelText('Number')).toHaveValue('30');
    await user.click(screen.getByRole('button', { name: /^Places of Etching/ }));
    const places = screen.getByRole('dialog', { name: 'Where this number stands' });
    const [first] = within(places).getAllByRole('checkbox');
    expect(first?.closest('label')).toHaveTextContent(/target: 30/);
    await user.click(
      within(within(places).getByRole('group', { name: template().title })).getByRole('checkbox', {
        name: /^Etch, target: 30/,
      }),
    );
    await user.click(within(places).getByRole('button', { name: 'Done' }));
    expect(screen.getByText('Stands at 1 place')).toBeVisible();
    await user.click(await screen.findByRole('button', { name: 'Tick 1 place in Our veneers' }));
    expect(screen.getByText('Stands at 2 places')).toBeVisible();
  });

  it('shows two states of one revision side by side, and changes nothing by either', async () => {
    const test = await deskWithSheet();
    const sheet = { ...etchingGelSheet(), revision: '2026-05', pages: '1 to 9' };
    const said = { type: 'written', sheet };
    const by = { tablet: 'another', by: 'Clinic lead D', atWallMs: 5 };
    const fact = asFact({ kind: 'sheet', item: sheet.id, said, after: [], ...by });
    await keepFact(test.journal, fact, test.epoch);
    await showOn('/lead/sheets/sheet-gel', test);
    expect(await screen.findByText(/^Two tablets wrote this sheet/)).toBeVisible();
    expect(screen.getByText('Written on another tablet')).toBeVisible();
    expect(screen.getByText('1 to 4')).toBeVisible();
    expect(screen.getByText('1 to 9')).toBeVisible();
    cleanup();
    await test.desk.open(PASSPHRASE);
    await showOn('/lead/sheets/sheet-gel/changes', test);
    expect(await screen.findByText(/^Two tablets wrote this sheet/)).toBeVisible();
    expect(screen.queryByRole('button', { name: /^Make/ })).toBeNull();
  });

  it('offers to read on before the next revision while a number is not read', async () => {
    const test = await openDesk();
    await test.desk.setPassphrase({ person: PERSON, passphrase: PASSPHRASE });
    const draft = nextRevisionDraft(etchingGelSheet());
    await test.desk.sheets.begin({ ...draft, revision: '2026-05' });
    const kept = await test.desk.sheets.keep(draft.id);
    if (!kept.ok) throw new Error(kept.error.came);
    await showOn(`/lead/sheets/${draft.id}`, test);
    const rankOf = (name: string) => screen.getByRole('button', { name }).dataset['rank'];
    expect(rankOf('Read on or correct')).toBe('main');
    expect(rankOf('New revision')).toBe('plain');
  });

  it('finds the sheet of a label that a scanner types', async () => {
    const user = userEvent.setup();
    const shown = await showOn('/lead/sheets', await deskWithSheet());
    const field = await screen.findByLabelText('Find by label');
    // A made-up GTIN of the range that GS1 keeps for examples, with a lot and an expiry.
    await user.click(field);
    await user.paste('01095060001343521728010110AB12');
    await user.keyboard('{Enter}');
    expect(shown.where()).toBe('/lead/sheets/label/09506000134352');
    expect(screen.getByRole('link', { name: /^Etching gel/ })).toBeVisible();
    await user.click(screen.getByLabelText('Find by label'));
    await user.paste('04012345678901');
    await user.keyboard('{Enter}');
    expect(screen.getByText('No sheet names 04012345678901')).toBeVisible();
    await user.click(screen.getByRole('button', { name: 'New sheet for 04012345678901' }));
    expect(screen.getByLabelText('Device identifiers')).toHaveValue('04012345678901');
  });
});
