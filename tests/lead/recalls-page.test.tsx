// @vitest-environment jsdom
import { act, screen, within } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import { beforeAll, describe, expect, it } from 'vitest';
import { Stock } from '../../src/runtime/stock/stock.ts';
import { LeadDesk } from '../../src/ui/lead/LeadDesk.tsx';
import { deedWords } from '../../src/words/lead-words.ts';
import { must } from '../backup/filled-journal.ts';
import { gel } from '../facts/tablets.ts';
import { fakeSession, show } from '../ui-screens/fake-session.tsx';
import { openDesk, PASSPHRASE, PERSON } from './lead-support.ts';
import { dialogsInJsdom } from './show-desk.tsx';

beforeAll(dialogsInJsdom);

/** The open desk with a shelf that has two boxes of one lot. */
async function desk() {
  const { desk: opened, journal, epoch } = await openDesk();
  must(await opened.setPassphrase({ person: PERSON, passphrase: PASSPHRASE }));
  const nowWallMs = () => 1_780_000_000_000;
  const stock = new Stock({ journal, epoch: () => epoch, tablet: () => 'tablet', nowWallMs });
  must(await stock.receive(gel));
  must(await stock.receive({ ...gel, id: 'second' }));
  const lead = Promise.resolve(opened);
  const session = { ...fakeSession(), lead: () => lead, stock };
  await act(async () => {
    show(<LeadDesk />, { session: session as never, path: '/lead/recalls' });
  });
  return { opened, stock };
}

describe('the page of recalled lots', () => {
  it('marks a lot and removes the mark, each with a reason and in the log', async () => {
    const { opened, stock } = await desk();
    const user = userEvent.setup();
    const mark = screen.getByRole('button', { name: 'Mark as recalled' });
    await user.type(screen.getByLabelText('Lot'), 'l-204');
    expect(screen.getByText('Etch gel, shelf 2 (phosphoric-acid-gel)')).toBeVisible();
    expect(mark).toBeDisabled();
    await user.type(screen.getByLabelText('Why, and on whose word'), 'letter of 20 November');
    await user.click(mark);
    const call = { name: `Cases to call for lot ${gel.lot}` };
    const link = await screen.findByRole('link', call);
    const row = within(link.closest('li') ?? document.body);
    expect(row.getByText('2 boxes')).toBeVisible();
    expect(link).toHaveAttribute('href', `/materials/calls/${gel.lot}`);
    await user.click(row.getByRole('button', { name: `Remove the mark of lot ${gel.lot}` }));
    const sheet = within(screen.getByRole('dialog'));
    const remove = sheet.getByRole('button', { name: 'Remove the mark' });
    expect(remove).toBeDisabled();
    await user.type(sheet.getByLabelText('Why it is removed'), 'another size was meant');
    await user.click(remove);
    expect(await screen.findByText('No lot is marked.')).toBeVisible();
    expect(stock.state.getState().materials.map(({ recalled }) => recalled)).toEqual([
      undefined,
      undefined,
    ]);
    const told = opened.state.getState().log.entries.slice(-2).map(deedWords);
    expect(told).toEqual([
      'Marked lot l-204 as recalled: letter of 20 November',
      'Removed the recall mark of lot L-204: another size was meant',
    ]);
  });

  it('marks a lot that has no box on the list, for the one that comes later', async () => {
    const { stock } = await desk();
    await userEvent.type(screen.getByLabelText('Lot'), 'X/9');
    await userEvent.type(screen.getByLabelText('Why, and on whose word'), 'letter');
    await userEvent.click(screen.getByRole('button', { name: 'Mark as recalled' }));
    expect(await screen.findByRole('heading', { name: 'Lot X/9' })).toBeVisible();
    expect(stock.state.getState().recalls).toMatchObject([{ lot: 'X/9', reason: 'letter' }]);
  });

  it('says that no box of a lot is on the list, and leads to its cases all the same', async () => {
    await desk();
    await userEvent.type(screen.getByLabelText('Lot'), 'X/9');
    expect(screen.getByText(/^No box of this lot is on the list\./)).toBeVisible();
    expect(screen.getByRole('link', { name: 'Cases to call, lot X/9' })).toHaveAttribute(
      'href',
      '/materials/calls/X%2F9',
    );
  });
});
