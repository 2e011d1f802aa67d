// @vitest-environment jsdom
/** Who presses is one tap on the chair, and so is whose signature closes the case. */
import { screen } from '@testing-library/react';
import { userEvent } from '@testing-library/user-event';
import { expect, it } from 'vitest';
import { ChairBar } from '../../src/ui/chair/ChairBar.tsx';
import { FamilyChair } from '../families/family-chair.ts';
import { runningOf } from '../tools/running-case.ts';
import { fakeSession, show } from './fake-session.tsx';

const draw = (chair: FamilyChair) => {
  const running = { ...runningOf(chair), by: 'assistant-b' };
  const session = fakeSession({ running });
  const more = () => undefined;
  show(<ChairBar running={running} around={running} onOpen={more} />, { session });
  return session;
};

it('hands over to the next person with one tap', async () => {
  const session = draw(FamilyChair.of('veneers, universal'));
  await userEvent.click(screen.getByRole('button', { name: /^Assistant B presses/ }));
  expect(session.setBy).toHaveBeenCalledExactlyOnceWith('dentist-a');
});

it('closes with the signature that the bar names, and with that of another in one tap', async () => {
  const session = draw(FamilyChair.of('veneers, universal').toTheEnd());
  expect(screen.getByRole('button', { name: /Close the case/ }).textContent).toContain(
    'signed by Assistant B',
  );
  await userEvent.click(screen.getByRole('button', { name: 'Close, signed by Dentist A' }));
  expect(session.do.mock.calls).toEqual([[{ do: 'close', by: 'dentist-a', role: 'dentist' }]]);
});

it('says nothing about a signature while something is left', () => {
  draw(FamilyChair.of('veneers, universal'));
  expect(screen.queryByText(/signed by/)).toBeNull();
});
