import { describe, expect, test } from 'vitest';
import { watchVisibility } from '../../src/runtime/device/visibility.ts';
import { createScreenLock, type SentinelLike } from '../../src/runtime/device/wake-lock.ts';
import { fakePage } from './fake-page.ts';
import { fakeTime, settle } from './fake-time.ts';

function screen() {
  const time = fakeTime();
  const page = fakePage();
  const visibility = watchVisibility(page.page);
  const asked: SentinelLike[] = [];
  const device = { refuses: false };
  const request = (): Promise<SentinelLike> => {
    if (device.refuses || visibility.getState() === 'hidden') {
      return Promise.reject(new Error('NotAllowedError'));
    }
    const events = new EventTarget();
    let released = false;
    const sentinel: SentinelLike = {
      get released() {
        return released;
      },
      release() {
        released = true;
        events.dispatchEvent(new Event('release'));
        return Promise.resolve();
      },
      addEventListener: (type, listener) => events.addEventListener(type, listener),
    };
    asked.push(sentinel);
    return Promise.resolve(sentinel);
  };
  const lock = createScreenLock({ request, visibility, timers: time.timers });
  return { ...time, ...page, lock, asked, device };
}

describe('screen lock', () => {
  test('is held while a case wants it and let go afterwards', async () => {
    const { lock, asked } = screen();
    expect(lock.status.getState()).toEqual({ state: 'not-held', reason: 'not-asked' });
    lock.hold();
    await settle();
    expect(lock.status.getState()).toEqual({ state: 'held' });
    lock.letGo();
    expect(asked[0]?.released).toBe(true);
    expect(lock.status.getState()).toEqual({ state: 'not-held', reason: 'not-asked' });
  });

  test('is asked for again when the page is visible again', async () => {
    // A browser releases the lock first and tells of hiding afterwards (measured).
    const { lock, asked, hide, show, pass } = screen();
    lock.hold();
    await settle();
    void asked[0]?.release();
    hide();
    pass(10_000);
    await settle();
    expect(lock.status.getState()).toEqual({ state: 'not-held', reason: 'hidden' });
    show();
    await settle();
    expect(lock.status.getState()).toEqual({ state: 'held' });
    expect(asked.length).toBe(2);
  });

  test('tells when the device takes it back, and asks again', async () => {
    const { lock, asked, pass } = screen();
    lock.hold();
    await settle();
    void asked[0]?.release();
    expect(lock.status.getState()).toEqual({ state: 'not-held', reason: 'taken-back' });
    pass(2000);
    await settle();
    expect(lock.status.getState()).toEqual({ state: 'held' });
  });

  test('tells when the device refuses, and keeps asking', async () => {
    const { lock, device, pass } = screen();
    device.refuses = true;
    lock.hold();
    await settle();
    expect(lock.status.getState()).toEqual({ state: 'not-held', reason: 'refused' });
    device.refuses = false;
    pass(2000);
    await settle();
    expect(lock.status.getState()).toEqual({ state: 'held' });
  });

  test('gives back a lock that arrives after it was let go', async () => {
    const { lock, asked } = screen();
    lock.hold();
    lock.letGo();
    await settle();
    expect(asked.map(({ released }) => released)).toEqual([true]);
    expect(lock.status.getState()).toEqual({ state: 'not-held', reason: 'not-asked' });
  });

  test('says so where there is none', () => {
    const { clock: _, timers } = fakeTime();
    const visibility = watchVisibility(fakePage().page);
    const lock = createScreenLock({ request: undefined, visibility, timers });
    lock.hold();
    expect(lock.status.getState()).toEqual({ state: 'unsupported' });
  });
});
