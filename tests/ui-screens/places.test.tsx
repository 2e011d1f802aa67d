// @vitest-environment jsdom
// The addresses of the app: what an old bookmark leads to.
import '@testing-library/jest-dom/vitest';
import { screen } from '@testing-library/react';
import { expect, it } from 'vitest';
import { DEFAULT_SETTINGS } from '../../src/runtime/app-state.ts';
import { App } from '../../src/ui/app/App.tsx';
import { fakeSession, show } from './fake-session.tsx';

it('the address that the far view had before leads to it', async () => {
  const session = fakeSession({ settings: { ...DEFAULT_SETTINGS, theme: 'light' } });
  const { where } = show(<App />, { session, path: '/glance' });
  expect(await screen.findByRole('main', { name: 'Far view' })).toBeVisible();
  expect(where()).toBe('/far-view');
});

it('the window is named by what it shows', async () => {
  const session = fakeSession({ settings: { ...DEFAULT_SETTINGS, theme: 'light' } });
  show(<App />, { session, path: '/far-view' });
  await screen.findByRole('main', { name: 'Far view' });
  expect(document.title).toBe('Far view · Lutewatch');
});
