// @vitest-environment jsdom
// The clinic's zone on its page, and the line where the tablet's own clock is set to another one.
import { screen, within } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import { beforeAll, describe, expect, it, vi } from 'vitest';
import { DEFAULT_SETTINGS } from '../../src/runtime/app-state.ts';
import { Clinic } from '../../src/ui/clinic/Clinic.tsx';
import { TodayNotices } from '../../src/ui/today/TodayNotices.tsx';
import { fakeSession, show } from './fake-session.tsx';

vi.setConfig({ testTimeout: 30_000 });

beforeAll(() => {
  // jsdom knows no dialogs.
  HTMLDialogElement.prototype.showModal = function open() {
    this.open = true;
  };
  HTMLDialogElement.prototype.close = function close() {
    this.open = false;
  };
});

const inZone = (clinic: string, tablet: string) => {
  const quiet = fakeSession().store.getState();
  return fakeSession({
    settings: { ...DEFAULT_SETTINGS, zone: clinic },
    tablet: { ...quiet.tablet, zone: tablet },
  });
};

describe('the time zone of the clinic', () => {
  it('is found by its city and saved', async () => {
    const session = inZone('Europe/Lisbon', 'Europe/Lisbon');
    show(<Clinic />, { session, path: '/clinic' });
    expect(screen.getByText(/^Europe\/Lisbon, now \d\d:\d\d, UTC\+00:00$/)).toBeVisible();
    await userEvent.click(screen.getByRole('button', { name: 'Change the zone' }));
    const sheet = screen.getByRole('dialog', { name: 'Time zone of the clinic' });
    await userEvent.type(within(sheet).getByRole('searchbox'), 'lord ho');
    await userEvent.click(within(sheet).getByRole('button', { name: /^Australia\/Lord_Howe/ }));
    expect(session.saveSettings.mock.lastCall?.[0].zone).toBe('Australia/Lord_Howe');
    expect(screen.queryByRole('dialog')).toBeNull();
    // Its summer begins on the first Sunday of October: IANA database, Rule LH.
    expect(screen.getByText(/^Australia\/Lord_Howe, now \d\d:\d\d, UTC\+11:00$/)).toBeVisible();
  });

  it('may be UTC, and a search that finds nothing says so', async () => {
    show(<Clinic />, { session: inZone('Europe/Lisbon', 'Europe/Lisbon'), path: '/clinic' });
    await userEvent.click(screen.getByRole('button', { name: 'Change the zone' }));
    const sheet = screen.getByRole('dialog');
    await userEvent.type(within(sheet).getByRole('searchbox'), 'utc');
    expect(within(sheet).getByRole('button', { name: /^UTC,/ })).toBeVisible();
    await userEvent.type(within(sheet).getByRole('searchbox'), ' nowhere');
    expect(within(sheet).getByText('No zone is called that.')).toBeVisible();
  });
});

describe('a tablet whose own clock is set to another zone', () => {
  const line =
    'This tablet’s own clock is set to America/New_York. Times here are told in the clinic’s zone, Europe/Lisbon.';

  it('says so in one line on Today and on the clinic page', () => {
    show(<TodayNotices />, { session: inZone('Europe/Lisbon', 'America/New_York') });
    expect(screen.getByText(line)).toBeVisible();
  });

  it('says so on the clinic page', () => {
    show(<Clinic />, { session: inZone('Europe/Lisbon', 'America/New_York'), path: '/clinic' });
    expect(screen.getByText(line)).toBeVisible();
  });

  it('says nothing when both are one, by whichever of its names', () => {
    show(<TodayNotices />, { session: inZone('Asia/Kathmandu', 'Asia/Katmandu') });
    expect(screen.queryByText(/own clock/)).toBeNull();
  });
});
