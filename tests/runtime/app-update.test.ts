import { describe, expect, test, vi } from 'vitest';
import {
  APPLYING_MS_MAX,
  KEEP_REST_AFTER_MS,
  registerApp,
} from '../../src/runtime/update/app-update.ts';
import { type CaseSign, createCaseSign } from '../../src/runtime/windows/case-sign.ts';
import { fakeLocks } from './fake-locks.ts';
import { fakeTime, settle } from './fake-time.ts';

function app(
  options: {
    isCaseRunning?: boolean;
    readonly registers?: boolean;
    readonly whileNone?: CaseSign['whileNone'];
  } = {},
) {
  const listeners = new Map<string, () => void>();
  const worker = {
    addEventListener: (type: string, listener: () => void) => void listeners.set(type, listener),
    register: vi.fn(() =>
      options.registers === false ? Promise.reject(new Error('blocked')) : Promise.resolve(),
    ),
    update: vi.fn(() => Promise.reject(new Error('offline'))),
    messageSkipWaiting: vi.fn(),
    messageSW: vi.fn(async () => undefined),
  };
  const { timers, pass } = fakeTime();
  const reload = vi.fn();
  const update = registerApp({
    openWorker: () => worker,
    isCaseRunning: () => options.isCaseRunning ?? false,
    whileNone: options.whileNone ?? ((run) => run()),
    reload,
    timers,
  });
  return { pass, worker, reload, update, happen: (type: string) => listeners.get(type)?.() };
}

describe('app update', () => {
  test('changes version only when told to, and reloads once the new one is in charge', async () => {
    const { worker, reload, update, happen } = app();
    happen('waiting');
    expect(update.status.getState()).toBe('waiting');
    expect(worker.messageSkipWaiting).not.toHaveBeenCalled();
    expect(await update.applyUpdate()).toEqual({ ok: true, value: 'applying' });
    expect(reload).not.toHaveBeenCalled();
    happen('controlling');
    expect(reload).toHaveBeenCalledTimes(1);
  });

  test('is refused while a case runs, and does not even look', async () => {
    const { worker, update, happen } = app({ isCaseRunning: true });
    happen('waiting');
    expect(await update.applyUpdate()).toMatchObject({
      ok: false,
      error: { code: 'case-running' },
    });
    await update.check();
    expect(worker.messageSkipWaiting).not.toHaveBeenCalled();
    expect(worker.update).not.toHaveBeenCalled();
  });

  test('is refused while a case runs in another window, says so, and may be asked for again', async () => {
    const locks = fakeLocks();
    const [mine, other] = [createCaseSign(locks), createCaseSign(locks)];
    const { worker, update, happen } = app({ whileNone: mine.whileNone });
    happen('waiting');
    other.show(true);
    expect(await update.applyUpdate()).toMatchObject({ error: { code: 'case-running' } });
    expect(worker.messageSkipWaiting).not.toHaveBeenCalled();
    expect(update.status.getState()).toBe('held');
    other.show(false);
    await settle();
    expect(await update.applyUpdate()).toEqual({ ok: true, value: 'applying' });
    expect(worker.messageSkipWaiting).toHaveBeenCalledTimes(1);
  });

  test('is held where the lock cannot be had, and may be asked for again', async () => {
    const { update, happen } = app({ whileNone: () => Promise.reject(new Error('no locks')) });
    happen('waiting');
    expect(await update.applyUpdate()).toMatchObject({ ok: false, error: { code: 'no-lock' } });
    expect(update.status.getState()).toBe('held');
  });

  test('that never takes charge may be asked for again', async () => {
    const { update, happen, pass } = app();
    happen('waiting');
    await update.applyUpdate();
    pass(APPLYING_MS_MAX);
    await settle();
    expect(update.status.getState()).toBe('waiting');
  });

  test('does not reload when the very first version takes charge', () => {
    const { reload, happen } = app();
    happen('controlling');
    expect(reload).not.toHaveBeenCalled();
  });

  test('is refused when nothing waits', async () => {
    expect(await app().update.applyUpdate()).toMatchObject({ error: { code: 'none-waiting' } });
  });

  test('looking without a network is no failure', async () => {
    const { update } = app();
    await update.check();
    expect(update.status.getState()).toBe('none');
  });

  test('tells when the registration fails, and where there are no service workers', async () => {
    const { update } = app({ registers: false });
    await settle();
    expect(update.status.getState()).toBe('failed');
    const without = registerApp({
      openWorker: undefined,
      isCaseRunning: () => false,
      whileNone: (run) => run(),
      reload: () => undefined,
      timers: fakeTime().timers,
    });
    expect(without.status.getState()).toBe('unsupported');
  });

  test('has what is seldom needed kept some seconds after the start, but not beside a case', async () => {
    const options = { isCaseRunning: true };
    const { worker, pass } = app(options);
    await settle();
    pass(3 * KEEP_REST_AFTER_MS);
    expect(worker.messageSW).not.toHaveBeenCalled();
    options.isCaseRunning = false;
    pass(KEEP_REST_AFTER_MS);
    expect(worker.messageSW.mock.calls).toEqual([[{ type: 'KEEP_REST' }]]);
    pass(3 * KEEP_REST_AFTER_MS);
    expect(worker.messageSW).toHaveBeenCalledTimes(1);
  });
});
