// @vitest-environment jsdom
/** What is asked before a way back that depends on a step nobody pressed yet. */
import { screen } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import { expect, it, vi } from 'vitest';
import { WentWrong } from '../../src/ui/chair/sheets/WentWrong.tsx';
import { Chair } from '../engine/chair.ts';
import { confirm, protocolOf, settingOf, step } from '../engine/fixture.ts';
import { runningOf } from '../tools/running-case.ts';
import { fakeSession, show } from './fake-session.tsx';

// jsdom has no modal dialogs.
HTMLDialogElement.prototype.showModal = function showModal() {
  this.setAttribute('open', '');
};

const basis = { kind: 'practice' } as const;

const SEATING = protocolOf(
  [
    step('cement', 'mix', confirm),
    step('load', 'unit', confirm, {
      after: ['cement/linked'],
      pressed: { kind: 'implied', by: ['seat'] },
      words: { end: '{subject} loaded' },
    }),
    step('seat', 'unit', confirm, { after: ['load/same'] }),
  ],
  {
    waysBack: [
      {
        id: 'waited',
        title: 'Unit waited in the light',
        mishap: 'left-in-light',
        per: 'unit',
        from: { step: 'cement', edge: 'end' },
        until: { step: 'load', edge: 'end' },
        voids: [{ step: 'cement', link: 'linked' }],
        proposal: 'Mix again.',
        basis,
      },
      {
        id: 'loaded',
        title: 'Loaded unit in the light',
        mishap: 'left-in-light',
        per: 'unit',
        from: { step: 'load', edge: 'end' },
        voids: [{ step: 'load', link: 'same' }],
        proposal: 'Wipe it out.',
        basis,
      },
    ],
  },
);

function opened() {
  const chair = new Chair(settingOf(SEATING, ['21'])).rows('at 5 s confirm cement 1');
  const running = runningOf(chair);
  const session = fakeSession({ running });
  show(<WentWrong running={running} onClose={vi.fn()} />, { session });
  return session;
}

it.each([
  ['Yes, it was done', { wayBack: 'loaded', wasDone: true }],
  ['No, not yet', { wayBack: 'waited' }],
])('whether the unit was loaded is asked in its own words; "%s"', async (answer, command) => {
  const session = opened();
  await userEvent.click(screen.getByRole('button', { name: 'Unit waited in the light' }));
  await userEvent.click(screen.getByRole('button', { name: 'Go back to this' }));
  expect(session.do).not.toHaveBeenCalled();
  expect(screen.getByText(/Was it done already\? 21 loaded\./)).toBeVisible();
  await userEvent.click(screen.getByRole('button', { name: answer }));
  expect(session.do).toHaveBeenCalledTimes(1);
  const [[sent]] = session.do.mock.calls as [[object]];
  expect(sent).toMatchObject({ do: 'take-way-back', subjects: ['unit:21'], ...command });
  expect('wasDone' in sent).toBe('wasDone' in command);
});

it('the sheet goes by what was chosen, and leads back to the list', async () => {
  opened();
  expect(screen.getByRole('heading', { name: 'What went wrong?' })).toBeVisible();
  await userEvent.click(screen.getByRole('button', { name: 'Unit waited in the light' }));
  expect(screen.queryByRole('heading', { name: 'What went wrong?' })).toBeNull();
  expect(screen.getByRole('heading', { name: 'Unit waited in the light' })).toBeVisible();
  await userEvent.click(screen.getByRole('button', { name: 'Something else' }));
  expect(screen.getByRole('heading', { name: 'What went wrong?' })).toBeVisible();
});
