/**
 * The door to workbox-window: offers a newer version of the app, and changes to it only when a
 * person says so and no case runs in any window, because the app must not change under a case.
 */
import { Workbox } from 'workbox-window';
import { createStore } from 'zustand/vanilla';
import { type Problem, problem } from '../../base/problem.ts';
import { err, ok, type Result } from '../../base/result.ts';
import type { TimerHost } from '../device/timer-host.ts';
import type { Readable } from '../readable.ts';
import type { CaseSign } from '../windows/case-sign.ts';

/**
 * So long after the start, in ms, the app has what is seldom needed kept as well (the decoder of
 * label codes, the quick card): a first use without a network must not fail.
 */
export const KEEP_REST_AFTER_MS = 5000;

/** What a change that was asked for takes at most, in ms; after that it may be asked for again. */
export const APPLYING_MS_MAX = 10_000;

/** `held`: a newer version waits, and was asked for while a case ran in another window. */
export type UpdateStatus = 'none' | 'waiting' | 'held' | 'applying' | 'unsupported' | 'failed';

/** The part of workbox-window that is used. */
interface WorkboxLike {
  addEventListener(type: 'waiting' | 'controlling', listener: () => void): void;
  register(): Promise<unknown>;
  update(): Promise<void>;
  messageSkipWaiting(): void;
  messageSW(data: object): Promise<unknown>;
}

interface AppUpdate {
  /** `waiting` when a newer version is on the device. */
  readonly status: Readable<UpdateStatus>;
  /** Looks for a newer version. Does nothing while a case runs, and nothing is wrong off line. */
  check(): Promise<void>;
  /** Changes to the waiting version and reloads the page; refused while a case runs in any window. */
  applyUpdate(): Promise<Result<'applying', Problem>>;
}

/**
 * Registers the service worker.
 *
 * @param options.openWorker makes the registration; undefined where there are no service workers.
 * @param options.isCaseRunning in this window; asked at each decision.
 * @param options.whileNone does something while no window runs a case; null where one does.
 */
export function registerApp(options: {
  readonly openWorker: (() => WorkboxLike) | undefined;
  readonly isCaseRunning: () => boolean;
  readonly whileNone: CaseSign['whileNone'];
  readonly reload: () => void;
  readonly timers: TimerHost;
}): AppUpdate {
  const worker = options.openWorker?.();
  const status = createStore<UpdateStatus>(() => (worker === undefined ? 'unsupported' : 'none'));
  /** A case that runs has the tablet to itself; it is asked for again when that is over. */
  const keepRest = (): void => {
    if (options.isCaseRunning()) options.timers.after(KEEP_REST_AFTER_MS, keepRest);
    else void worker?.messageSW({ type: 'KEEP_REST' });
  };

  worker?.addEventListener('waiting', () => status.setState('waiting'));
  worker?.addEventListener('controlling', () => {
    // The first version takes control too; only a change that was asked for reloads the page.
    if (status.getState() === 'applying') options.reload();
  });
  worker?.register().then(
    () => options.timers.after(KEEP_REST_AFTER_MS, keepRest),
    () => status.setState('failed'),
  );

  return {
    status,
    async check() {
      if (worker === undefined || options.isCaseRunning()) return;
      try {
        await worker.update();
      } catch {
        // Without a network there is nothing newer to be had.
      }
    },
    async applyUpdate() {
      const running = problem('update', 'no running case', 'a running case', 'case-running');
      if (options.isCaseRunning()) return err(running);
      const isReady = status.getState() === 'waiting' || status.getState() === 'held';
      if (worker === undefined || !isReady) {
        return err(problem('update', 'a newer version waiting', status.getState(), 'none-waiting'));
      }
      status.setState('applying');
      return new Promise((resolve) => {
        const apply = async () => {
          worker.messageSkipWaiting();
          resolve(ok('applying'));
          // The lock is kept until this page is loaded anew: no other window applies it as well.
          await new Promise<void>((passed) => options.timers.after(APPLYING_MS_MAX, passed));
          status.setState('waiting');
        };
        const failed = (came: Problem): void => {
          status.setState('held');
          resolve(err(came));
        };
        void options.whileNone(apply).then(
          (done) => {
            if (done === null) failed(running);
          },
          () => failed(problem('update', 'the lock of this app', 'none', 'no-lock')),
        );
      });
    },
  };
}

/** The registration of the app's own service worker. */
export function appServiceWorker(): WorkboxLike {
  return new Workbox('/service-worker.js');
}
