// @vitest-environment jsdom
// The short cautions on the chair: beside a running clock, and only where there are any.
import { screen, within } from '@testing-library/react';
import { expect, it } from 'vitest';
import { Chair } from '../../src/ui/chair/Chair.tsx';
import { ChairCautions } from '../../src/ui/chair/ChairCautions.tsx';
import { FamilyChair } from '../families/family-chair.ts';
import { runningOf } from '../tools/running-case.ts';
import { fakeSession, show } from './fake-session.tsx';

function etching(): FamilyChair {
  const chair = FamilyChair.of('veneers, universal');
  for (let press = 0; press < 300; press += 1) {
    if (chair.view.clocks.some(({ kind, of }) => kind === 'dwell' && of === 'etch')) return chair;
    chair.next();
  }
  throw new Error('nothing is etched');
}

it('stand under the large clock while acid is on a tooth', async () => {
  const running = runningOf(etching());
  show(<Chair />, { session: fakeSession({ running }) });
  expect(screen.getAllByRole('timer').length).toBeGreaterThan(0);
  const lines = within(await screen.findByRole('list', { name: 'Take care' })).getAllByRole(
    'listitem',
  );
  expect(lines.map(({ textContent }) => textContent)).toContain('Acid burns: off skin, gum, eyes');
});

it('are not there where nothing can hurt', () => {
  const chair = FamilyChair.of('veneers, universal');
  while (chair.view.offers[0]?.step !== 'read-protocol') chair.next();
  show(<ChairCautions running={runningOf(chair)} />, { session: fakeSession() });
  expect(screen.queryByRole('list', { name: 'Take care' })).toBeNull();
});
