import { describe, expect, test } from 'vitest';
import { createStorageGuard } from '../../src/runtime/device/persist.ts';

const inTab = { matches: () => false, isHomeScreenApp: false };

describe('storage guard', () => {
  test('asks for protection and tells what it got', async () => {
    let isPersisted = false;
    const guard = createStorageGuard({
      ...inTab,
      storage: {
        persist: () => {
          isPersisted = true;
          return Promise.resolve(true);
        },
        persisted: () => Promise.resolve(isPersisted),
        estimate: () => Promise.resolve({ usage: 5, quota: 100 }),
      },
    });
    await guard.refresh();
    expect(guard.status.getState().protection).toBe('evictable');
    await guard.protect();
    expect(guard.status.getState()).toEqual({
      protection: 'protected',
      usedBytes: 5,
      quotaBytes: 100,
      isInstalled: false,
    });
  });

  test.each([
    ['has no storage manager', undefined],
    ['has an empty one', {}],
    ['refuses to say', { persisted: () => Promise.reject(new Error('SecurityError')) }],
  ])('promises nothing where the browser %s', async (_, storage) => {
    const guard = createStorageGuard({ ...inTab, storage });
    await guard.protect();
    expect(guard.status.getState()).toMatchObject({ protection: 'unknown', quotaBytes: null });
  });

  test.each([
    [
      'standalone display',
      { matches: (q: string) => q.includes('standalone'), isHomeScreenApp: false },
      true,
    ],
    ['home screen app', { matches: () => false, isHomeScreenApp: true }, true],
    [
      'browser tab',
      { matches: (q: string) => q.includes('browser'), isHomeScreenApp: false },
      false,
    ],
  ])('knows a %s', (_, window, isInstalled) => {
    const guard = createStorageGuard({ storage: undefined, ...window });
    expect(guard.status.getState().isInstalled).toBe(isInstalled);
  });
});
