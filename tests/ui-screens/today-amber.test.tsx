/** While resin is exposed every page is amber, Today too, and no longer than that. */
import { act, screen } from '@testing-library/react';
import { expect, it } from 'vitest';
import { DEFAULT_SETTINGS } from '../../src/runtime/app-state.ts';
import { App } from '../../src/ui/app/App.tsx';
import { FamilyChair } from '../families/family-chair.ts';
import { runningOf } from '../tools/running-case.ts';
import { fakeSession, show } from './fake-session.tsx';

// jsdom has no media queries: the light look is asked for.
const settings = { ...DEFAULT_SETTINGS, theme: 'light' } as const;

const look = () => document.documentElement.dataset['theme'];

/** A case whose resin is exposed: the first picture in which a clock of its protocol says so. */
function exposed(): FamilyChair {
  const chair = FamilyChair.of('veneers, universal');
  while (!chair.view.amber) if (chair.next() === undefined) throw new Error('never exposed');
  return chair;
}

it('Today is amber while the resin of the running case is exposed', async () => {
  const before = runningOf(FamilyChair.of('veneers, universal'));
  expect(before.view.amber).toBe(false);
  const session = fakeSession({ running: before, settings });
  show(<App />, { session, path: '/' });
  await screen.findByRole('heading', { name: 'Today', level: 1 });
  expect(look()).toBe('light');
  act(() => session.store.setState({ running: runningOf(exposed()) }));
  expect(look()).toBe('amber');
  act(() => session.store.setState({ running: null }));
  expect(look()).toBe('light');
});

it('a clinic that turned the amber look off sees none', async () => {
  const session = fakeSession({
    running: runningOf(exposed()),
    settings: { ...settings, amber: false },
  });
  show(<App />, { session, path: '/' });
  await screen.findByRole('heading', { name: 'Today', level: 1 });
  expect(look()).toBe('light');
});
