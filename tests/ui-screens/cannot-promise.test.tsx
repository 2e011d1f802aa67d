// @vitest-environment jsdom
// What a browser cannot promise is said before a case depends on it.
import { screen } from '@testing-library/react';
import { expect, it, vi } from 'vitest';
import type { Tablet } from '../../src/runtime/app-state.ts';
import { ClinicStorage } from '../../src/ui/clinic/ClinicStorage.tsx';
import { TodayNotices } from '../../src/ui/today/TodayNotices.tsx';
import { fakeSession, show } from './fake-session.tsx';

vi.setConfig({ testTimeout: 20_000 });

const withTablet = (changes: Partial<Tablet>) => {
  const session = fakeSession();
  const quiet = session.store.getState();
  session.store.setState({ tablet: { ...quiet.tablet, ...changes } });
  return session;
};

const IN_TAB = { protection: 'unknown', usedBytes: null, quotaBytes: null, isInstalled: false };

/** WebKit deletes what a page has stored after seven days of use without a visit: webkit.org/blog/10218. */
it.each([
  ['Today', <TodayNotices key="t" />] as const,
  ['Clinic', <ClinicStorage key="c" />] as const,
])('%s says that some browsers delete what a tab has stored after seven days', (_, place) => {
  show(place, { session: withTablet({ storage: { ...IN_TAB, protection: 'unknown' } }) });
  expect(screen.getByText(/Some browsers delete what a page in a tab has stored/)).toBeVisible();
});

it('an installed app is not told of tabs', () => {
  const storage = { ...IN_TAB, protection: 'unknown', isInstalled: true } as const;
  show(<ClinicStorage />, { session: withTablet({ storage }) });
  expect(screen.queryByText(/seven days/)).toBeNull();
});

it('where the browser cannot keep the screen on, the tablet’s own setting is named', () => {
  show(<TodayNotices />, { session: withTablet({ screen: { state: 'unsupported' } }) });
  expect(screen.getByText('This browser cannot keep the screen on')).toBeVisible();
  expect(screen.getByText(/Set the tablet so that its screen stays on/)).toBeVisible();
});

it('a browser that can says nothing of it', () => {
  show(<TodayNotices />, { session: withTablet({ screen: { state: 'held' } }) });
  expect(screen.queryByText('This browser cannot keep the screen on')).toBeNull();
});
