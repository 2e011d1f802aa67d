/**
 * Keeps the screen on while a case runs. A browser may take the lock away at any time, and takes it
 * whenever the page is hidden, so whether it is held is always told.
 */
import { createStore } from 'zustand/vanilla';
import { type Readable, setIfChanged } from '../readable.ts';
import type { TimerHost } from './timer-host.ts';
import type { Visibility } from './visibility.ts';

export type WakeLockStatus =
  | { readonly state: 'held' }
  | {
      readonly state: 'not-held';
      /** Nobody asked; the page is hidden; the device refused (power saving) or took it back. */
      readonly reason: 'not-asked' | 'hidden' | 'refused' | 'taken-back';
    }
  | { readonly state: 'unsupported' };

export interface SentinelLike {
  readonly released: boolean;
  release(): Promise<void>;
  addEventListener(type: 'release', listener: () => void): void;
}

interface ScreenLock {
  readonly status: Readable<WakeLockStatus>;
  /** Asks for the lock and keeps asking when it is lost. Call it again from a touch after a refusal. */
  hold(): void;
  letGo(): void;
}

/** Waiting before asking again for a lock that was taken back from a visible page, in ms. */
const ASK_AGAIN_MS = 2000;

/** Makes the {@link ScreenLock} of a page. `request` is undefined where the browser has none. */
export function createScreenLock(options: {
  readonly request: (() => Promise<SentinelLike>) | undefined;
  readonly visibility: Pick<Visibility, 'getState' | 'onWake'>;
  readonly timers: TimerHost;
}): ScreenLock {
  const { request, visibility, timers } = options;
  const status = createStore<WakeLockStatus>(() =>
    request === undefined ? { state: 'unsupported' } : { state: 'not-held', reason: 'not-asked' },
  );
  let isWanted = false;
  let isAsking = false;
  let held: SentinelLike | undefined;
  let cancelAskAgain: () => void = () => undefined;

  const lost = (reason: 'hidden' | 'refused' | 'taken-back'): void => {
    held = undefined;
    setIfChanged(status, { state: 'not-held', reason: isWanted ? reason : 'not-asked' });
    cancelAskAgain();
    if (isWanted && reason !== 'hidden')
      cancelAskAgain = timers.after(ASK_AGAIN_MS, () => void ask());
  };

  const received = (sentinel: SentinelLike): void => {
    if (!isWanted) {
      void sentinel.release();
      return;
    }
    held = sentinel;
    sentinel.addEventListener('release', () => {
      if (held === sentinel) lost(visibility.getState() === 'hidden' ? 'hidden' : 'taken-back');
    });
    setIfChanged(status, { state: 'held' });
  };

  async function ask(): Promise<void> {
    if (request === undefined || !isWanted || isAsking || held !== undefined) return;
    if (visibility.getState() === 'hidden') {
      lost('hidden');
      return;
    }
    isAsking = true;
    try {
      received(await request());
    } catch {
      lost(visibility.getState() === 'hidden' ? 'hidden' : 'refused');
    } finally {
      isAsking = false;
    }
  }

  visibility.onWake(() => {
    // The release event comes before the page knows that it is hidden; what is held may be gone.
    if (held?.released === true) held = undefined;
    void ask();
  });

  return {
    status,
    hold() {
      isWanted = true;
      void ask();
    },
    letGo() {
      isWanted = false;
      cancelAskAgain();
      void held?.release();
      held = undefined;
      if (request !== undefined) setIfChanged(status, { state: 'not-held', reason: 'not-asked' });
    },
  };
}
