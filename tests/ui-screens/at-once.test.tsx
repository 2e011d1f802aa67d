// @vitest-environment jsdom
/** A firm bead stands at the bar at once, with its answers one tap away. */
import { screen } from '@testing-library/react';
import { userEvent } from '@testing-library/user-event';
import { expect, it } from 'vitest';
import { barAct } from '../../src/engine/attention.ts';
import { ChairAtOnce } from '../../src/ui/chair/ChairAtOnce.tsx';
import { barModel, headingOf } from '../../src/ui/chair/chair-model.ts';
import { FamilyChair } from '../families/family-chair.ts';
import { runningOf } from '../tools/running-case.ts';
import { fakeSession, show } from './fake-session.tsx';

function seated(): FamilyChair {
  const chair = FamilyChair.of('veneers, universal');
  for (let i = 0; i < 300; i += 1) {
    if (chair.view.offers[0]?.step === 'seat') return chair;
    chair.next();
  }
  throw new Error('nothing was ever seated');
}

it('says nothing while nothing happened', () => {
  const running = runningOf(seated());
  show(<ChairAtOnce running={running} onOpen={() => undefined} />, {
    session: fakeSession({ running }),
  });
  expect(screen.queryByRole('alert')).toBeNull();
});

it('offers the answers to a firm bead, and each is one tap', async () => {
  const chair = seated();
  chair.do({ do: 'probe-bead', mix: 'mix:1', found: 'firm' });
  const running = runningOf(chair);
  const session = fakeSession({ running });
  show(<ChairAtOnce running={running} onOpen={() => undefined} />, { session });
  expect(screen.getByRole('alert').textContent).toContain('The bead of portion 1 is firm.');
  // Nothing is seated yet: the bar says the way back, and here stands the other answer.
  expect(barModel(running)?.words).toBe('Start portion 1 again');
  expect(headingOf(running)).toEqual({ doing: 'Start again', subject: 'portion 1' });
  expect(barAct(running.view.attention)?.command).toMatchObject({
    do: 'take-way-back',
    mishap: 'gelled-early',
    subjects: ['mix:1'],
  });
  await userEvent.click(screen.getByRole('button', { name: '11 seated' }));
  expect(screen.getAllByRole('button').at(-1)).toHaveTextContent('Went wrong');
  expect(session.do.mock.calls).toMatchObject([[{ do: 'press', offer: { step: 'seat' } }]]);
});
