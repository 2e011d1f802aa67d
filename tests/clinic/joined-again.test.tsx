// @vitest-environment jsdom
// The page of the tablets where one left and joined again, where nobody was heard of, and where a code failed.
import { act, screen, waitFor, within } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import { beforeAll, expect, it } from 'vitest';
import { ok } from '../../src/base/result.ts';
import type { TabletRow } from '../../src/runtime/sharing/sharing-state.ts';
import { Tablets } from '../../src/ui/clinic/tablets/Tablets.tsx';
import { fakePairing, fakeSharing, sharingSession } from '../sharing-ui/fake-sharing.ts';
import { PAIRED } from '../sharing-ui/states.ts';
import { show } from '../ui-screens/fake-session.tsx';

beforeAll(() => {
  // jsdom knows no dialogs.
  HTMLDialogElement.prototype.showModal = function open() {
    this.open = true;
  };
  HTMLDialogElement.prototype.close = function close() {
    this.open = false;
  };
});

async function open(sharing: ReturnType<typeof fakeSharing>): Promise<void> {
  show(<Tablets />, { session: sharingSession(sharing), path: '/clinic/tablets' });
  await waitFor(() => expect(screen.queryByText('Opening')).toBeNull());
}

const row = (o: Partial<TabletRow>): TabletRow => ({
  device: 'first',
  name: 'Chair 2',
  isThis: false,
  standing: 'paired',
  lastContactWallMs: null,
  owes: null,
  runs: null,
  ...o,
});
const press = async (name: string) => userEvent.click(await screen.findByRole('button', { name }));

it('tells the place that a tablet has from the one that it left', async () => {
  const now = row({ device: 'again', tablet: 'first', name: 'Chair 2b', owes: 0 });
  await open(fakeSharing({ ...PAIRED, tablets: [row({ isEarlier: true }), now] }));
  const left = await screen.findByRole('listitem', { name: 'Chair 2' });
  expect(left).toHaveTextContent('Left the store and joined again: now Chair 2b');
  expect(left).not.toHaveTextContent(/not heard|handed over|Runs/i);
  expect(within(left).queryByRole('button', { name: 'Rename Chair 2' })).toBeNull();
  const putOut = { name: 'Put out the place that Chair 2 left' };
  expect(within(left).getByRole('button', putOut)).toBeEnabled();
  const rows = screen.getAllByRole('listitem').map((each) => each.getAttribute('aria-label'));
  expect(rows.filter((name) => name?.startsWith('Chair'))).toEqual(['Chair 2b', 'Chair 2']);
});

it('says nothing of what runs on a tablet that was not heard of', async () => {
  await open(fakeSharing({ ...PAIRED, tablets: [row({})] }));
  const unheard = await screen.findByRole('listitem', { name: 'Chair 2' });
  expect(unheard).toHaveTextContent('Not heard of since the app was opened here');
  expect(unheard).not.toHaveTextContent(/Runs/);
});

it('says before a tablet is put out that a case runs there', async () => {
  const runs = { caseId: 'case-b', title: 'Two veneers, T-104' };
  await open(fakeSharing({ ...PAIRED, tablets: [row({ runs, lastContactWallMs: 1 })] }));
  await press('Put out Chair 2');
  const dialog = within(await screen.findByRole('dialog'));
  expect(dialog.getByText(/^Two veneers, T-104 runs there\./)).toBeVisible();
});

it('says at the digits that the name is in the list already', async () => {
  const sharing = fakeSharing({ ...PAIRED, tablets: [row({})] });
  const pairing = fakePairing({ side: 'lead', step: 'compare', digits: '123456', name: 'chair 2' });
  sharing.invite.mockResolvedValueOnce(ok(pairing));
  await open(sharing);
  await userEvent.type(screen.getByLabelText('Passphrase of the lead'), 'quiet harbour');
  await press('Show a code');
  expect(
    await screen.findByText(/^A tablet called “chair 2” is in the list already/),
  ).toBeVisible();
  act(() => pairing.state.setState({ step: 'failed', problem: 'no-answer' }));
  expect(screen.getByText(/^The new tablet did not say that it has/)).toBeVisible();
});

it('keeps the code and the name that were typed, so that they can be set right', async () => {
  const sharing = fakeSharing();
  const pairing = fakePairing();
  sharing.join.mockResolvedValueOnce(ok(pairing));
  await open(sharing);
  await userEvent.type(screen.getByRole('textbox', { name: 'Code' }), 'k7qzm3xw9dtrpb4f');
  const name = screen.getAllByLabelText('Name of this tablet')[0] as HTMLElement;
  await userEvent.type(name, 'Chair 3');
  await press('Join');
  await screen.findByText('Waiting for the other screen');
  act(() => pairing.state.setState({ step: 'failed', problem: 'no-answer' }));
  await press('Try again');
  expect(screen.getByRole('textbox', { name: 'Code' })).toHaveValue('K7QZ M3XW 9DTR PB4F');
  expect(screen.getAllByLabelText('Name of this tablet')[0]).toHaveValue('Chair 3');
});
