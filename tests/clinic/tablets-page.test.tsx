// @vitest-environment jsdom
// The page of the tablets: joining, founding, inviting, putting out, leaving, and what it tells.
import { act, screen, waitFor, within } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import { beforeAll, describe, expect, it } from 'vitest';
import { problem } from '../../src/base/problem.ts';
import { err, ok } from '../../src/base/result.ts';
import { NOT_SHARING } from '../../src/runtime/sharing/sharing-state.ts';
import { Tablets } from '../../src/ui/clinic/tablets/Tablets.tsx';
import { fakePairing, fakeSharing, sharingSession } from '../sharing-ui/fake-sharing.ts';
import { CONFLICTS, OTHER, PAIRED } from '../sharing-ui/states.ts';
import { NOW_MS, show } from '../ui-screens/fake-session.tsx';

beforeAll(() => {
  // jsdom knows no dialogs.
  HTMLDialogElement.prototype.showModal = function open() {
    this.open = true;
  };
  HTMLDialogElement.prototype.close = function close() {
    this.open = false;
  };
});

type Fake = ReturnType<typeof fakeSharing>;

async function open(sharing: Fake, path = '/clinic/tablets') {
  const shown = show(<Tablets />, { session: sharingSession(sharing), path });
  await waitFor(() => expect(screen.queryByText('Opening')).toBeNull());
  return shown;
}

const button = (name: string) => screen.findByRole('button', { name });
const press = async (name: string) => userEvent.click(await button(name));
const code = () => screen.findByRole('textbox', { name: 'Code' });
const name = async () => (await screen.findAllByLabelText('Name of this tablet'))[0] as HTMLElement;

async function fillJoin(typed = 'k7qz-m3xw 9dtrpb4f', called = ' Chair 3 ') {
  await userEvent.type(await code(), typed);
  await userEvent.type(await name(), called);
}

describe('a tablet that is alone', () => {
  it('says in four lines what sharing is', async () => {
    await open(fakeSharing());
    const heading = await screen.findByRole('heading', { name: 'This tablet keeps to itself' });
    const list = heading.closest('section');
    expect(list?.querySelectorAll('li')).toHaveLength(4);
  });

  it('names place, expected and came at each field, once, and brings the keys to the first', async () => {
    const sharing = fakeSharing();
    await open(sharing);
    await userEvent.type(await code(), 'abcd efuh');
    await press('Join');
    expect(await code()).toHaveFocus();
    expect(await code()).toHaveAccessibleDescription(/Code, group 2: “U” is in no code/);
    expect(await name()).toHaveAccessibleDescription(/Name: a name expected, nothing came/);
    expect(document.querySelectorAll('form:first-of-type .lw-field-problem')).toHaveLength(2);
    expect(sharing.join).not.toHaveBeenCalled();
    await userEvent.clear(await code());
    await userEvent.type(await code(), 'abcd efgh jkm');
    expect(await code()).toHaveAccessibleDescription(/16 characters expected, 11 came. Group 3/);
  });

  it('puts what is typed or pasted into groups, corrects look-alikes, and joins', async () => {
    const sharing = fakeSharing();
    await open(sharing);
    await userEvent.click(await code());
    await userEvent.paste('o7qzi3xl9dtrpb4f');
    expect(await code()).toHaveValue('07QZ 13X1 9DTR PB4F');
    await userEvent.type(await name(), ' Chair 3 ');
    await press('Join');
    expect(sharing.join).toHaveBeenCalledWith({ code: '07QZ-13X1-9DTR-PB4F', name: 'Chair 3' });
  });

  it('keeps the caret among the characters when one is put in', async () => {
    await open(fakeSharing());
    const field = (await code()) as HTMLInputElement;
    await userEvent.type(field, 'k7qzm3xw');
    await userEvent.type(field, 'a', { initialSelectionStart: 2, initialSelectionEnd: 2 });
    expect(field).toHaveValue('K7AQ ZM3X W');
    expect(field.selectionStart).toBe(3);
  });

  it.each([
    ['not-connected', /There is no line to the server/],
    ['bad-code', /Code: one of an invitation expected/],
    ['something-new', /At the code: expected a code of today, came/],
  ])('tells in words why it did not join: %s', async (why, words) => {
    const sharing = fakeSharing();
    sharing.join.mockResolvedValue(err(problem('the code', 'a code of today', 'x', why)));
    await open(sharing);
    await fillJoin();
    await press('Join');
    expect(await screen.findByRole('alert')).toHaveTextContent(words);
  });

  it('shows the digits, may stop there, and stops the code when the page is left', async () => {
    const sharing = fakeSharing();
    const pairing = fakePairing();
    sharing.join.mockResolvedValue(ok(pairing));
    await open(sharing);
    await fillJoin();
    await press('Join');
    expect(await screen.findByText('Waiting for the other screen')).toBeVisible();
    await act(async () => pairing.state.setState({ step: 'compare', digits: '042917' }));
    expect(screen.getByRole('img', { name: 'Six digits: 0 4 2 9 1 7' })).toBeVisible();
    expect(screen.getByText('Same digits on both screens?')).toBeVisible();
    expect(screen.queryByRole('button', { name: 'Yes, the same' })).toBeNull();
    await press('No, stop');
    expect(pairing.stop).toHaveBeenCalledTimes(1);
    expect(await code()).toBeVisible();
  });

  it('founds the clinic after the first code: what is lost stands before the passphrase', async () => {
    const sharing = fakeSharing();
    const pairing = fakePairing({ step: 'done', founds: true });
    sharing.join.mockResolvedValue(ok(pairing));
    await open(sharing);
    await fillJoin();
    await press('Join');
    const lost = await screen.findByText(/If box and passphrase are lost/);
    const field = screen.getByLabelText('Passphrase of the lead');
    expect(lost.compareDocumentPosition(field)).toBe(Node.DOCUMENT_POSITION_FOLLOWING);
    await userEvent.type(field, 'seven');
    await press('Found the clinic');
    expect(field).toHaveAccessibleDescription(/at least 8 characters expected, 5 came/);
    await userEvent.type(field, ' quiet boats');
    await userEvent.type(screen.getByLabelText('Repeat it'), 'seven quiet boat');
    await press('Found the clinic');
    expect(screen.getByLabelText('Repeat it')).toHaveAccessibleDescription(/two that differ came/);
    expect(sharing.found).not.toHaveBeenCalled();
    await userEvent.type(screen.getByLabelText('Repeat it'), 's');
    await press('Found the clinic');
    expect(sharing.found).toHaveBeenCalledWith({ passphrase: 'seven quiet boats' });
  });

  it('starts again from the box that is typed, or from that of a restored backup', async () => {
    const sharing = fakeSharing();
    await open(sharing);
    const box = await screen.findByLabelText('Text of the box');
    const form = within(box.closest('form') as HTMLElement);
    await userEvent.type(form.getByLabelText('Passphrase of the lead'), 'seven quiet boats');
    await userEvent.type(form.getByLabelText('Name of this tablet'), 'Chair 1');
    await userEvent.click(form.getByText('Start again'));
    const given = { passphrase: 'seven quiet boats', name: 'Chair 1' };
    expect(sharing.recover).toHaveBeenLastCalledWith({ boxText: null, ...given });
    await userEvent.type(box, ' 0K7QZ M3XW2 ');
    await userEvent.click(form.getByText('Start again'));
    expect(sharing.recover).toHaveBeenLastCalledWith({ boxText: '0K7QZ M3XW2', ...given });
  });
});

describe('a tablet that takes part', () => {
  it('lists the tablets: last contact, what is owed, what runs; a tablet put out comes last', async () => {
    await open(fakeSharing(PAIRED));
    const rows = screen.getAllByRole('listitem').filter((row) => row.className === 'tablets-row');
    expect(rows.map((row) => row.getAttribute('aria-label'))).toEqual([
      'Chair 1',
      'Chair 2',
      'Old tablet',
    ]);
    expect(rows[1]).toHaveTextContent(/Has 4 messages not in the store yet/);
    expect(rows[1]).toHaveTextContent(/Runs: Two veneers, T-104/);
    expect(rows[2]).toHaveTextContent(/Put out/);
    expect(within(rows[0] as HTMLElement).queryByRole('button', { name: /Put out/ })).toBeNull();
  });

  it('invites: passphrase, code and minutes, digits, confirmation', async () => {
    const sharing = fakeSharing(PAIRED);
    const pairing = fakePairing({
      side: 'lead',
      code: 'K7QZ-M3XW-9DTR-PB4F',
      untilWallMs: NOW_MS + 9.5 * 60_000,
    });
    sharing.invite.mockResolvedValueOnce(
      err(problem('passphrase', 'the passphrase of the lead', 'another', 'wrong-passphrase')),
    );
    sharing.invite.mockResolvedValue(ok(pairing));
    await open(sharing);
    await press('Show a code');
    const field = screen.getByLabelText('Passphrase of the lead');
    expect(field).toHaveAccessibleDescription(/the lead’s expected, nothing came/);
    await userEvent.type(field, 'seven quiet boats');
    await press('Show a code');
    expect(await screen.findByRole('alert')).toHaveTextContent(/the lead’s expected, another one/);
    await press('Show a code');
    expect(
      await screen.findByRole('img', { name: 'Code: K 7 Q Z - M 3 X W - 9 D T R - P B 4 F' }),
    ).toBeVisible();
    expect(screen.getByText('10 min left')).toBeVisible();
    await act(async () =>
      pairing.state.setState({ step: 'compare', digits: '042917', name: 'Chair 3' }),
    );
    expect(screen.getByText(/“Chair 3” asks to join/)).toBeVisible();
    await press('Yes, the same');
    expect(pairing.confirm).toHaveBeenCalledTimes(1);
    expect(screen.getByRole('button', { name: 'Yes, the same' })).toBeDisabled();
    await act(async () => pairing.state.setState({ step: 'done' }));
    expect(screen.getByText('Chair 3 takes part now.')).toBeVisible();
    await press('Close');
    expect(pairing.stop).not.toHaveBeenCalled();
    expect(await button('Show a code')).toBeVisible();
  });

  it('puts a tablet out after saying what that does and what it cannot', async () => {
    const sharing = fakeSharing(PAIRED);
    await open(sharing);
    await press('Put out Chair 2');
    const sheet = within(screen.getByRole('dialog', { name: 'Put out Chair 2' }));
    expect(sheet.getByText(/does not take back what that tablet has read/)).toBeVisible();
    await userEvent.click(sheet.getByRole('button', { name: 'Put it out' }));
    expect(sheet.getByLabelText('Why')).toHaveFocus();
    expect(sharing.putOut).not.toHaveBeenCalled();
    await userEvent.type(sheet.getByLabelText('Why'), 'lost on the way');
    await userEvent.type(sheet.getByLabelText('Passphrase of the lead'), 'seven quiet boats');
    await userEvent.click(sheet.getByRole('button', { name: 'Put it out' }));
    expect(sharing.putOut).toHaveBeenCalledWith({
      device: OTHER,
      reason: 'lost on the way',
      passphrase: 'seven quiet boats',
    });
    await waitFor(() => expect(screen.queryByRole('dialog')).toBeNull());
  });

  it('renames, and takes no name that another tablet has', async () => {
    const sharing = fakeSharing(PAIRED);
    await open(sharing);
    await press('Rename Chair 2');
    const sheet = within(screen.getByRole('dialog', { name: 'Rename Chair 2' }));
    const field = sheet.getByLabelText('New name');
    await userEvent.clear(field);
    await userEvent.type(field, 'chair 1');
    await userEvent.click(sheet.getByRole('button', { name: 'Rename it' }));
    expect(field).toHaveAccessibleDescription(/one that no other tablet has expected/);
    await userEvent.clear(field);
    await userEvent.type(field, 'Surgery');
    await userEvent.type(sheet.getByLabelText('Passphrase of the lead'), 'seven quiet boats');
    await userEvent.click(sheet.getByRole('button', { name: 'Rename it' }));
    expect(sharing.rename).toHaveBeenCalledWith({
      device: OTHER,
      name: 'Surgery',
      passphrase: 'seven quiet boats',
    });
  });

  it('tells in words what is not shown, and names a tablet nobody knows by its id', async () => {
    await open(
      fakeSharing({
        ...PAIRED,
        refused: [
          { code: 'bad-signature', device: OTHER, count: 3 },
          { code: 'unknown-tablet', device: 'a1b2c3d4-5', count: 1 },
        ],
      }),
    );
    expect(
      screen.getByText('3 messages that name Chair 2 are not signed by it: not shown.'),
    ).toBeVisible();
    expect(screen.getByText(/^1 message that names tablet a1b2c3d4: nobody has/)).toBeVisible();
  });

  it('warns while the box lies in tablets alone, and not once it is kept', async () => {
    const sharing = fakeSharing({ ...PAIRED, box: { sealedAtWallMs: NOW_MS, isKept: false } });
    await open(sharing);
    expect(screen.getByText(/on no paper and in no backup/)).toBeVisible();
    expect(screen.getByRole('link', { name: 'Print the box' })).toHaveAttribute(
      'href',
      '/clinic/tablets/box',
    );
    await act(async () =>
      sharing.state.setState({ box: { sealedAtWallMs: NOW_MS, isKept: true } }),
    );
    expect(screen.queryByText(/on no paper/)).toBeNull();
  });

  it('tells that the store went back, that it is for trying, how far a reading is', async () => {
    await open(
      fakeSharing({
        ...PAIRED,
        isDemo: true,
        wentBackAtWallMs: NOW_MS,
        sharedAtWallMs: null,
        catchUp: { done: 100, of: 4000 },
      }),
    );
    expect(screen.getByText(/The store went back to an older state/)).toBeVisible();
    expect(screen.getAllByText(/DEMO store: for trying, not for patients/)[0]).toBeVisible();
    expect(screen.getByRole('progressbar', { name: 'Read: 100 of 4000' })).toHaveValue(100);
    expect(screen.getByRole('link', { name: 'Restore a backup first: faster' })).toHaveAttribute(
      'href',
      '/backup',
    );
  });

  it('leaves only after being asked, and says what is not in the store yet', async () => {
    const sharing = fakeSharing({ ...PAIRED, owed: 2 });
    await open(sharing);
    await press('Leave the store');
    const sheet = within(screen.getByRole('dialog', { name: 'Leave the store' }));
    expect(sheet.getByText('2 messages are not in the store yet.')).toBeVisible();
    expect(sharing.leave).not.toHaveBeenCalled();
    await userEvent.click(sheet.getByRole('button', { name: 'Leave' }));
    expect(sharing.leave).toHaveBeenCalledTimes(1);
    await act(async () => sharing.state.setState(NOT_SHARING));
    expect(await code()).toBeVisible();
  });

  it('says what holds on once this tablet was put out', async () => {
    await open(fakeSharing({ ...PAIRED, standing: 'put-out' }));
    expect(screen.getByRole('alert')).toHaveTextContent(/was put out of the clinic’s store/);
    expect(await button('Leave the store')).toBeVisible();
  });
});

describe('the box on paper', () => {
  it('has every group of its text, what it is for, when and where it was printed; a person says that it is', async () => {
    const sharing = fakeSharing(PAIRED);
    sharing.boxText.mockResolvedValue('0K7Q M3XW 9DTR\nPB4F C6HN');
    await open(sharing, '/clinic/tablets/box');
    expect(screen.getByText('0K7Q M3XW 9DTR')).toBeVisible();
    expect(screen.getByText('PB4F C6HN')).toBeVisible();
    expect(screen.getByText(/^Printed on Chair 1, 25 Nov 2026, 08:00/)).toBeVisible();
    expect(screen.getByText(/Lock it away, apart from the passphrase/)).toBeVisible();
    await press('It is on paper and put away');
    expect(sharing.boxPrinted).toHaveBeenCalledTimes(1);
    expect(await screen.findByText('Noted.')).toBeVisible();
  });
});

describe('what two tablets tell differently', () => {
  it('stands side by side with tablet, person and time; choosing a lot’s value settles that field', async () => {
    const sharing = fakeSharing({ ...PAIRED, conflicts: 3 });
    sharing.conflicts.mockResolvedValue(ok(CONFLICTS));
    const session = sharingSession(sharing);
    const settle = session.stock;
    const settled: unknown[] = [];
    Object.assign(settle, {
      settle: async (id: string, o: unknown) => {
        settled.push([id, o]);
        return ok(null);
      },
    });
    show(<Tablets />, { session, path: '/clinic/tablets/conflicts' });
    const heading = await screen.findByRole('heading', { name: 'Etch gel, shelf 2, lot L-204' });
    const part = within(heading.closest('section') as HTMLElement);
    const sides = part.getAllByRole('listitem');
    expect(sides[0]).toHaveTextContent(/31 Mar 2027.*On Chair 1/);
    expect(sides[1]).toHaveTextContent(/31 Mar 2028M, on Chair 2, 25 Nov 2026, 08:52/);
    await userEvent.click(
      part.getByRole('button', { name: 'Side 2 of Etch gel, shelf 2, lot L-204 holds' }),
    );
    expect(settled).toEqual([['gel', { field: 'expiry', value: '2028-03-31' }]]);
    expect(await screen.findByText('Settled: Etch gel, shelf 2, lot L-204.')).toBeVisible();
  });

  it('leads to the lead’s desk where only the desk can choose', async () => {
    const sharing = fakeSharing({ ...PAIRED, conflicts: 3 });
    sharing.conflicts.mockResolvedValue(ok(CONFLICTS));
    await open(sharing, '/clinic/tablets/conflicts');
    expect(await screen.findByRole('link', { name: 'Compare both' })).toHaveAttribute(
      'href',
      `/lead/history/own-protocol/${'a1'.repeat(32)}/${'b2'.repeat(32)}`,
    );
    expect(screen.getByRole('link', { name: 'To the sheet' })).toHaveAttribute(
      'href',
      '/lead/sheets/sheet-1',
    );
  });
});
