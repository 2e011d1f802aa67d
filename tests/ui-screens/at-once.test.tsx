// @vitest-environment jsdom
/** A firm bead stands at the bar at once, with its answers one tap away. */
import { screen } from '@testing-library/react';
import { userEvent } from '@testing-library/user-event';
import { expect, it } from 'vitest';
import { ChairAtOnce } from '../../src/ui/chair/ChairAtOnce.tsx';
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
  show(<ChairAtOnce running={running} />, { session: fakeSession({ running }) });
  expect(screen.queryByRole('alert')).toBeNull();
});

it('offers the answers to a firm bead, and each is one tap', async () => {
  const chair = seated();
  chair.do({ do: 'probe-bead', mix: 'mix:1', found: 'firm' });
  const running = runningOf(chair);
  const session = fakeSession({ running });
  show(<ChairAtOnce running={running} />, { session });
  expect(screen.getByRole('alert').textContent).toContain('The bead of portion 1 is firm.');
  const answers = screen.getAllByRole('button');
  expect(answers.length).toBeGreaterThanOrEqual(1);
  expect(answers.length).toBeLessThanOrEqual(2);
  expect(answers.at(-1)?.textContent).toBe('Start portion 1 again');
  const last = answers.at(-1);
  if (last) await userEvent.click(last);
  expect(session.do).toHaveBeenCalledOnce();
  expect(session.do.mock.calls[0]?.[0]).toMatchObject({
    do: 'take-way-back',
    mishap: 'gelled-early',
  });
});
