import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { createAlarmTimer } from '../../src/runtime/device/alarm-timer.ts';
import {
  createTimerHost,
  DELAY_MS_MAX,
  type WorkerLike,
} from '../../src/runtime/device/timer-host.ts';
import type { TimerRequest } from '../../src/runtime/device/timer-messages.ts';
import { fakeWake } from './fake-page.ts';
import { fakeTime } from './fake-time.ts';

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

/** The page's timers: on vitest's clock, or asleep as in a page that is hidden for long. */
function pageTimers(options: { readonly isThrottled: boolean }) {
  const ids = new Map<number, ReturnType<typeof setTimeout>>();
  const delays: number[] = [];
  let nextId = 1;
  return {
    delays,
    set(callback: () => void, delayMs: number) {
      const id = nextId++;
      delays.push(delayMs);
      if (!options.isThrottled) ids.set(id, setTimeout(callback, delayMs));
      return id;
    },
    clear: (id: number) => clearTimeout(ids.get(id)),
  };
}

/** A worker that keeps time, or one that has silently died. */
function fakeWorker(options: { readonly isDead: boolean }) {
  const requests: TimerRequest[] = [];
  const running = new Map<number, ReturnType<typeof setTimeout>>();
  let onMessage: (event: { readonly data: unknown }) => void = () => undefined;
  let onError: () => void = () => undefined;
  const worker: WorkerLike = {
    postMessage(request) {
      requests.push(request);
      clearTimeout(running.get(request.id));
      if (request.type === 'clear' || options.isDead) return;
      const say = () => onMessage({ data: { type: 'due', id: request.id } });
      running.set(request.id, setTimeout(say, request.delayMs));
    },
    addEventListener(type: string, listener: (event: { readonly data: unknown }) => void) {
      if (type === 'message') onMessage = listener;
      if (type === 'error') onError = () => listener({ data: null });
    },
    terminate: () => undefined,
  };
  return { worker, requests, fail: () => onError(), say: (data: unknown) => onMessage({ data }) };
}

describe('timer host', () => {
  test('keeps time through its worker while the page is throttled', () => {
    const { worker } = fakeWorker({ isDead: false });
    const host = createTimerHost({
      page: pageTimers({ isThrottled: true }),
      spawn: () => worker,
    });
    const callback = vi.fn();
    host.after(20_000, callback);
    vi.advanceTimersByTime(19_999);
    expect(callback).not.toHaveBeenCalled();
    vi.advanceTimersByTime(1);
    expect(callback).toHaveBeenCalledTimes(1);
    expect(host.route).toBe('worker');
  });

  test('calls once although both timers are set', () => {
    const { worker } = fakeWorker({ isDead: false });
    const host = createTimerHost({ page: pageTimers({ isThrottled: false }), spawn: () => worker });
    const callback = vi.fn();
    host.after(1000, callback);
    vi.advanceTimersByTime(10_000);
    expect(callback).toHaveBeenCalledTimes(1);
  });

  test('passes over the word of a worker that comes after the page has called', () => {
    const { worker, say } = fakeWorker({ isDead: true });
    const host = createTimerHost({ page: pageTimers({ isThrottled: false }), spawn: () => worker });
    const callback = vi.fn();
    host.after(1000, callback);
    vi.advanceTimersByTime(1030);
    say({ type: 'due', id: 1 });
    expect(callback).toHaveBeenCalledTimes(1);
  });

  test('loses no alarm to a worker that has died unnoticed', () => {
    const { worker } = fakeWorker({ isDead: true });
    const host = createTimerHost({ page: pageTimers({ isThrottled: false }), spawn: () => worker });
    const callback = vi.fn();
    host.after(1000, callback);
    vi.advanceTimersByTime(1030);
    expect(callback).toHaveBeenCalledTimes(1);
  });

  test.each([
    ['there are no workers', undefined],
    [
      'workers are forbidden',
      () => {
        throw new Error('SecurityError');
      },
    ],
  ])('uses the page alone, on time, where %s', (_, spawn) => {
    const host = createTimerHost({ page: pageTimers({ isThrottled: false }), spawn });
    const callback = vi.fn();
    host.after(1000, callback);
    vi.advanceTimersByTime(1000);
    expect(callback).toHaveBeenCalledTimes(1);
    expect(host.route).toBe('page');
  });

  test('says that it is down to the page after the worker failed to load', () => {
    const { worker, fail } = fakeWorker({ isDead: true });
    const host = createTimerHost({ page: pageTimers({ isThrottled: false }), spawn: () => worker });
    fail();
    expect(host.route).toBe('page');
  });

  test('cancels in both places', () => {
    const { worker, requests } = fakeWorker({ isDead: false });
    const host = createTimerHost({ page: pageTimers({ isThrottled: false }), spawn: () => worker });
    const callback = vi.fn();
    host.after(1000, callback)();
    vi.advanceTimersByTime(5000);
    expect(callback).not.toHaveBeenCalled();
    expect(requests.map(({ type }) => type)).toEqual(['set', 'clear']);
  });

  test('never hands a browser a delay that overflows its timer', () => {
    // HTML, "timers": a delay is a signed 32-bit integer of milliseconds.
    const { worker, requests } = fakeWorker({ isDead: true });
    const page = pageTimers({ isThrottled: true });
    const host = createTimerHost({ page, spawn: () => worker });
    host.after(2 ** 31, () => undefined);
    host.after(-5, () => undefined);
    const delays = requests.map((request) => ('delayMs' in request ? request.delayMs : NaN));
    expect(delays).toEqual([DELAY_MS_MAX, 0]);
    expect(Math.max(...page.delays)).toBe(2 ** 31 - 1);
  });

  test('passes over a message that is not its own', () => {
    const { worker, say } = fakeWorker({ isDead: true });
    const host = createTimerHost({ page: pageTimers({ isThrottled: true }), spawn: () => worker });
    const callback = vi.fn();
    host.after(1000, callback);
    for (const data of [null, 'due', { type: 'due' }, { type: 'due', id: 'x' }, { id: 1 }])
      say(data);
    expect(callback).not.toHaveBeenCalled();
  });
});

describe('alarm timer', () => {
  const armed = () => {
    const time = fakeTime();
    const page = fakeWake();
    const alarm = createAlarmTimer({ timers: time.timers, visibility: page });
    const fired: string[] = [];
    alarm.onFire((cause) => fired.push(cause));
    return { ...time, page, alarm, fired };
  };

  test('fires once when its time comes', () => {
    const { alarm, pass, fired } = armed();
    alarm.arm(500);
    pass(2000);
    expect(fired).toEqual(['due']);
  });

  test('keeps only the last arming', () => {
    const { alarm, pass, fired } = armed();
    alarm.arm(500);
    alarm.arm(5000);
    pass(4999);
    expect(fired).toEqual([]);
    pass(1);
    expect(fired).toEqual(['due']);
  });

  test('asks for a fresh look when the page wakes, because its timer may have slept', () => {
    const { alarm, page, pass, fired } = armed();
    alarm.arm(60_000);
    page.wake();
    pass(120_000);
    expect(fired).toEqual(['woke']);
  });

  test('stays silent on waking when nothing was armed', () => {
    const { alarm, page, fired } = armed();
    alarm.arm(10);
    alarm.cancel();
    page.wake();
    expect(fired).toEqual([]);
  });
});
