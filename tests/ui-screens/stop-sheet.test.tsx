// @vitest-environment jsdom
/** Stopping a visit shows what the protocol says to do, and takes nothing without a reason. */
import { screen } from '@testing-library/react';
import { userEvent } from '@testing-library/user-event';
import { expect, it, vi } from 'vitest';
import { StopSheet } from '../../src/ui/chair/sheets/StopSheet.tsx';
import { FamilyChair } from '../families/family-chair.ts';
import { runningOf } from '../tools/running-case.ts';
import { fakeSession, show } from './fake-session.tsx';

// jsdom has no modal dialogs.
HTMLDialogElement.prototype.showModal = function showModal() {
  this.open = true;
};

it('tells what to do for seated units, and stops with the reason that was typed', async () => {
  const chair = FamilyChair.of('veneers, universal');
  while (chair.log.state.runs['seat@unit:11'] === undefined) chair.next();
  const running = runningOf(chair);
  const session = fakeSession({ running });
  const onClose = vi.fn();
  show(<StopSheet running={running} onClose={onClose} />, { session });
  expect(document.body.textContent).toMatch(/Stopped with units seated, 11:/);
  const stop = screen.getByRole('button', { name: 'Stop the visit now' });
  await userEvent.click(stop);
  expect(session.do).not.toHaveBeenCalled();
  await userEvent.type(screen.getByRole('textbox'), 'The patient is unwell');
  await userEvent.click(stop);
  expect(session.do).toHaveBeenCalledWith({ do: 'stop-visit', reason: 'The patient is unwell' });
});
