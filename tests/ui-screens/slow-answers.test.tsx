// @vitest-environment jsdom
// What takes a while: a second press meanwhile, a page that is left before the answer, and an answer that never comes.
import { act, cleanup, fireEvent, screen, waitFor } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import { expect, test, vi } from 'vitest';
import { ok, type Result } from '../../src/base/result.ts';
import type { CaseFacts } from '../../src/runtime/cases/cases-list-facts.ts';
import type { Pairing } from '../../src/runtime/sharing/sharing-state.ts';
import { CasesDelete } from '../../src/ui/cases/CasesDelete.tsx';
import { ClinicHelp } from '../../src/ui/clinic/ClinicHelp.tsx';
import { Tablets } from '../../src/ui/clinic/tablets/Tablets.tsx';
import { RecordAtStore } from '../../src/ui/record/page/RecordAtStore.tsx';
import { RecordLateNote } from '../../src/ui/record/page/RecordLateNote.tsx';
import { useApp } from '../../src/ui/shared/session-context.ts';
import { Chair } from '../engine/chair.ts';
import { ETCH_ROUND, settingOf } from '../engine/fixture.ts';
import { fakePairing, fakeSharing, sharingSession } from '../sharing-ui/fake-sharing.ts';
import { fakeSession, show } from './fake-session.tsx';

// jsdom has no dialogs that open.
HTMLDialogElement.prototype.showModal = function showModal() {
  this.open = true;
};
HTMLDialogElement.prototype.close = function close() {
  this.open = false;
};

const user = userEvent.setup();
const button = (name: string | RegExp) => screen.getByRole('button', { name });

/** Something that is answered when the test says so. */
function later<T>() {
  let answer: (value: T) => void = () => undefined;
  let fail: (thrown: Error) => void = () => undefined;
  const asked = vi.fn(
    () =>
      new Promise<T>((resolve, reject) => {
        answer = resolve;
        fail = reject;
      }),
  );
  return { asked, answer: (value: T) => answer(value), fail: () => fail(new Error('not loaded')) };
}

const { log } = new Chair(settingOf(ETCH_ROUND, ['11']));

test('a note to a signed case is written once, however often it is pressed meanwhile', async () => {
  const { asked, answer, fail } = later<Result<null, never>>();
  const plain = fakeSession();
  const session = { ...plain, casesList: { ...plain.casesList, addNote: asked } };
  const people = [{ id: 'd', label: 'D', role: 'dentist' }] as never;
  show(<RecordLateNote caseId="case-1" people={people} log={log} />, { session });
  await user.click(screen.getByText(/note/i, { selector: 'summary *, summary' }));
  const field = screen.getByRole('textbox');
  await user.type(field, 'Called at noon');
  const form = field.closest('form') ?? document.body;
  fireEvent.submit(form);
  fireEvent.submit(form);
  expect(asked).toHaveBeenCalledTimes(1);
  await act(async () => fail());
  expect(await screen.findByRole('alert')).toBeVisible();
  fireEvent.submit(form);
  await act(async () => answer(ok(null)));
  expect(asked).toHaveBeenCalledTimes(2);
  expect(field).toHaveValue('');
});

test('a case is deleted once; where that does not come about it is said, and can be tried again', async () => {
  const { asked, answer, fail } = later<Result<null, never>>();
  const plain = fakeSession();
  const session = {
    ...plain,
    casesList: { ...plain.casesList, deleteCase: asked },
    followUps: vi.fn(async () => ({ livesOf: async () => 'none' })) as never,
  };
  const facts = { caseId: 'case-1', title: 'One', chartRef: 'R', mode: 'rehearsal' };
  const onClose = vi.fn();
  show(<CasesDelete facts={facts as unknown as CaseFacts} onClose={onClose} />, { session });
  const [by, reason] = screen.getAllByRole('textbox');
  await user.type(by ?? document.body, 'RS');
  await user.type(reason ?? document.body, 'twice');
  const doIt = await waitFor(() => {
    const found = button(/^Delete/);
    expect(found).toBeEnabled();
    return found;
  });
  await user.click(doIt);
  await user.click(doIt);
  expect(asked).toHaveBeenCalledTimes(1);
  await act(async () => fail());
  expect(screen.getByText(/^It did not work\. Try again/)).toBeVisible();
  await user.click(doIt);
  await act(async () => answer(ok(null)));
  expect(onClose).toHaveBeenCalledTimes(1);
});

async function joined(asked: () => Promise<Result<Pairing, never>>) {
  const sharing = fakeSharing();
  sharing.join.mockImplementation(asked);
  show(<Tablets />, { session: sharingSession(sharing) as never, path: '/clinic/tablets' });
  const code = await screen.findByLabelText(/^Code/);
  await user.type(code, '0123456789ABCDEF');
  const names = screen.getAllByLabelText(/name/i);
  await user.type(names[0] ?? document.body, 'Chair 2');
  await user.click(button('Join'));
}

test('an invitation that comes when its page was left is given up: nobody looks at its code', async () => {
  const { asked, answer } = later<Result<Pairing, never>>();
  await joined(asked);
  expect(asked).toHaveBeenCalledTimes(1);
  cleanup();
  const pairing = fakePairing();
  await act(async () => answer(ok(pairing)));
  expect(pairing.stop).toHaveBeenCalledTimes(1);
});

test('a form whose answer never comes says so and can be sent again', async () => {
  const { asked, fail } = later<Result<Pairing, never>>();
  await joined(asked);
  await act(async () => fail());
  expect(screen.getByRole('alert')).toHaveTextContent('It did not work. Try again');
  expect(button('Join')).toBeEnabled();
});

/** A place of the page that turns to another case; the name of the clinic stands for its id. */
function Turning() {
  const caseId = useApp((s) => s.settings.clinic);
  return <RecordAtStore caseId={caseId} />;
}

test('what lies on the store is told of the case that is looked at, not of the one before', async () => {
  const sharing = fakeSharing();
  const line = (caseId: string, title: string) =>
    ({ caseId, title, chartRef: '' }) as unknown as CaseFacts;
  const first = later<readonly CaseFacts[]>();
  sharing.storeOnly.mockImplementationOnce(first.asked);
  sharing.storeOnly.mockImplementationOnce(async () => [line('case-2', 'Of now')]);
  sharing.bringHere.mockImplementation(() => new Promise(() => undefined));
  const session = sharingSession(sharing);
  const turnTo = (clinic: string) =>
    act(async () => {
      const { settings } = session.store.getState();
      session.store.setState({ settings: { ...settings, clinic } });
    });
  await turnTo('case-1');
  show(<Turning />, { session: session as never });
  await waitFor(() => expect(sharing.storeOnly).toHaveBeenCalledTimes(1));
  await turnTo('case-2');
  await waitFor(() => expect(sharing.storeOnly).toHaveBeenCalledTimes(2));
  await act(async () => first.answer([line('case-1', 'Of before')]));
  expect(document.body.textContent).toContain('Of now');
  expect(document.body.textContent).not.toContain('Of before');
});

test('a first look that cannot be opened says so', async () => {
  const session = fakeSession();
  session.openCase.mockRejectedValue(new Error('not loaded'));
  const { where } = show(<ClinicHelp />, { session, path: '/clinic' });
  await user.click(button('Take a first look'));
  expect(await screen.findByRole('alert')).toHaveTextContent('The first look could not be opened.');
  expect(where()).toBe('/clinic');
});
