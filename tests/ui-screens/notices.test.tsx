// @vitest-environment jsdom
// What Today says about the tablet itself, and what the coach says in the first look.
import { readFileSync } from 'node:fs';
import { screen } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import { describe, expect, it, vi } from 'vitest';
import { parseCase } from '../../src/protocol/parse-case.ts';
import { parseProtocol } from '../../src/protocol/parse-protocol.ts';
import { DEFAULT_SETTINGS, type Tablet } from '../../src/runtime/app-state.ts';
import { createInstallOffer } from '../../src/runtime/device/install-offer.ts';
import { QuickCard } from '../../src/ui/clinic/QuickCard.tsx';
import { HEARD_FOR_MS, soundMemory } from '../../src/ui/shared/sound-memory.ts';
import { TodayNotices } from '../../src/ui/today/TodayNotices.tsx';
import { ZONE } from '../tools/here.ts';
import { fakeSession, NOW_MS, show } from './fake-session.tsx';

vi.setConfig({ testTimeout: 20_000 });

const stateWith = (o: {
  readonly protection: 'protected' | 'evictable' | 'unknown';
  readonly isInstalled?: boolean;
  readonly canInstall?: boolean;
}): Tablet => ({
  sound: { state: 'on' },
  screen: { state: 'held' },
  storage: {
    protection: o.protection,
    usedBytes: null,
    quotaBytes: null,
    isInstalled: o.isInstalled ?? false,
  },
  update: 'none',
  canInstall: o.canInstall ?? false,
  zone: ZONE,
});

const heard = { heardAtMs: NOW_MS - 1000, heardBy: 'assistant', heardVolume: 0.8 };

describe('a tablet in a browser tab', () => {
  it('says that records may be cleared, and asks the browser to keep them', async () => {
    const { tablet } = show(<TodayNotices />, {
      session: fakeSession({ tablet: stateWith({ protection: 'evictable' }) }),
    });
    expect(screen.getByText('The browser may clear the records in this tab')).toBeVisible();
    expect(screen.getByText(/Add the app to the home screen/)).toBeVisible();
    await userEvent.click(screen.getByRole('button', { name: 'Ask to keep them' }));
    expect(tablet.protectStorage).toHaveBeenCalledOnce();
  });

  it('offers to install the app where the browser does', async () => {
    const { tablet } = show(<TodayNotices />, {
      session: fakeSession({ tablet: stateWith({ protection: 'unknown', canInstall: true }) }),
    });
    await userEvent.click(screen.getByRole('button', { name: 'Install the app' }));
    expect(tablet.install).toHaveBeenCalledOnce();
  });

  it.each([
    ['the browser has promised to keep them', stateWith({ protection: 'protected' })],
    ['it is installed', stateWith({ protection: 'evictable', isInstalled: true })],
  ])('says nothing when %s', (_, state) => {
    show(<TodayNotices />, { session: fakeSession({ tablet: state }) });
    expect(screen.queryByText(/This browser tab/)).toBeNull();
  });
});

describe("the browser's offer to install", () => {
  it('is kept back until it is asked for, and used once', async () => {
    const target = new EventTarget();
    const offer = createInstallOffer(target);
    const prompt = vi.fn(async () => undefined);
    const event = Object.assign(new Event('beforeinstallprompt', { cancelable: true }), { prompt });
    target.dispatchEvent(event);
    expect([event.defaultPrevented, offer.canInstall.getState()]).toEqual([true, true]);
    await offer.install();
    await offer.install();
    expect(prompt).toHaveBeenCalledOnce();
    expect(offer.canInstall.getState()).toBe(false);
  });

  it('ends when the app was installed another way', () => {
    const target = new EventTarget();
    const offer = createInstallOffer(target);
    target.dispatchEvent(Object.assign(new Event('beforeinstallprompt'), { prompt: vi.fn() }));
    target.dispatchEvent(new Event('appinstalled'));
    expect(offer.canInstall.getState()).toBe(false);
  });
});

describe('whether the sound is heard', () => {
  it('is asked of a person, kept with its day, and shown', async () => {
    const session = fakeSession();
    const { tablet } = show(<TodayNotices />, { session });
    expect(screen.getByText('Sound not heard yet')).toBeVisible();
    await userEvent.click(screen.getByRole('button', { name: 'Play test sound' }));
    expect(tablet.soundTest).toHaveBeenCalledOnce();
    await userEvent.click(screen.getByRole('button', { name: 'The assistant' }));
    expect(session.store.getState().settings).toMatchObject({
      heardAtMs: NOW_MS,
      heardBy: 'assistant',
      heardVolume: 0.8,
    });
    expect(screen.getByText('Sound heard 25 Nov by the assistant')).toBeVisible();
    expect(screen.queryByRole('button', { name: 'Play test sound' })).toBeNull();
  });

  it.each([
    ['never', {}, NOW_MS],
    ['fresh', heard, NOW_MS],
    ['old', heard, NOW_MS + HEARD_FOR_MS],
    ['old', heard, NOW_MS - 60_000],
    ['quieter', { ...heard, volume: 0.5 }, NOW_MS],
  ] as const)('is %s', (state, change, nowMs) => {
    expect(soundMemory({ ...DEFAULT_SETTINGS, ...change }, { nowMs }).state).toBe(state);
  });

  it('is asked again when the answer is old', () => {
    const settings = { ...DEFAULT_SETTINGS, ...heard, heardAtMs: NOW_MS - HEARD_FOR_MS };
    show(<TodayNotices />, { session: fakeSession({ settings }) });
    expect(screen.getByText('Sound heard 18 Nov by the assistant')).toBeVisible();
    expect(screen.getByRole('button', { name: 'Play test sound' })).toBeVisible();
  });
});

describe('the first look', () => {
  const read = (name: string): unknown =>
    JSON.parse(readFileSync(`shared/first-look/${name}`, 'utf8'));

  it('ships a case and a protocol that can be read', () => {
    expect(parseCase(read('case.json')).ok).toBe(true);
    expect(parseProtocol(read('protocol.json')).ok).toBe(true);
  });

  it('is offered while nothing was run on this tablet, and can be put off', async () => {
    show(<TodayNotices />, { session: fakeSession() });
    expect(screen.getByRole('button', { name: 'Take a first look' })).toBeVisible();
    const [later] = screen.getAllByRole('button', { name: 'Later' });
    if (later === undefined) throw new Error('no way to put it off');
    await userEvent.click(later);
    expect(screen.queryByRole('button', { name: 'Take a first look' })).toBeNull();
  });
});

describe('the quick card', () => {
  it('names every key and every sound with its meaning', () => {
    vi.stubGlobal('__APP_VERSION__', '0.0.0');
    const settings = { ...DEFAULT_SETTINGS, extraKeys: ['F9'] };
    show(<QuickCard />, { session: fakeSession({ settings }) });
    expect(screen.getByRole('row', { name: /^Space, Enter, Page Down/ })).toHaveTextContent(
      'Presses the bar',
    );
    expect(screen.getByRole('row', { name: /^Escape/ })).toBeVisible();
    expect(screen.getByText(/F9/)).toBeVisible();
    // Seven patterns, one meaning each, and a head to each of the two tables.
    expect(screen.getAllByRole('row')).toHaveLength(7 + 3 + 2);
    expect(screen.getByText(/Keep an independent timer\. Instructions/)).toBeVisible();
    vi.unstubAllGlobals();
  });
});
