/**
 * Timers that a hidden page keeps. Each is set twice, in a worker and in the page, and the first of
 * the two to come counts: so a page is not slowed when hidden, and a worker that is missing, fails
 * to load or dies costs nothing but that.
 */
import { parseTimerDue, type TimerRequest } from './timer-messages.ts';

/** A longer delay overflows a browser's timer and would fire at once. */
export const DELAY_MS_MAX = 2_147_483_647;

/** The page's own timer stands back this long, in ms, so that the worker's is the one that fires. */
const PAGE_GRACE_MS = 30;

/** Waits in real time. */
export interface TimerHost {
  /**
   * Calls `callback` once after `delayMs` (at once when negative; after 24.8 days when longer than
   * that). The returned function cancels.
   */
  after(delayMs: number, callback: () => void): () => void;
  /** Which timers there are: both, or only the page's, which a browser slows when it is hidden. */
  readonly route: 'worker' | 'page';
  dispose(): void;
}

/** The page's own timers. */
export interface PageTimers {
  set(callback: () => void, delayMs: number): number;
  clear(id: number): void;
}

/** The part of a dedicated worker that is used. */
export interface WorkerLike {
  postMessage(request: TimerRequest): void;
  addEventListener(type: 'message', listener: (event: { readonly data: unknown }) => void): void;
  addEventListener(type: 'error' | 'messageerror', listener: () => void): void;
  terminate(): void;
}

interface Waiting {
  readonly pageId: number;
  readonly callback: () => void;
}

/**
 * Makes a {@link TimerHost}.
 *
 * @param options.spawn starts the worker; may throw, and is undefined where there are no workers.
 */
export function createTimerHost(options: {
  readonly page: PageTimers;
  readonly spawn: (() => WorkerLike) | undefined;
}): TimerHost {
  const { page } = options;
  const waiting = new Map<number, Waiting>();
  let nextId = 1;

  const finish = (id: number): Waiting | undefined => {
    const found = waiting.get(id);
    if (found === undefined) return undefined;
    waiting.delete(id);
    page.clear(found.pageId);
    return found;
  };

  let worker = startWorker(options.spawn);
  worker?.addEventListener('message', (event) => {
    const due = parseTimerDue(event.data);
    if (due !== undefined) finish(due.id)?.callback();
  });
  worker?.addEventListener('error', () => {
    worker?.terminate();
    worker = undefined;
  });

  return {
    after(wantedMs, callback) {
      const id = nextId++;
      const delayMs = Math.min(Math.max(0, wantedMs), DELAY_MS_MAX);
      const graceMs = worker === undefined ? 0 : PAGE_GRACE_MS;
      const pageId = page.set(
        () => {
          worker?.postMessage({ type: 'clear', id });
          finish(id)?.callback();
        },
        Math.min(delayMs + graceMs, DELAY_MS_MAX),
      );
      waiting.set(id, { pageId, callback });
      worker?.postMessage({ type: 'set', id, delayMs });
      return () => {
        if (finish(id) !== undefined) worker?.postMessage({ type: 'clear', id });
      };
    },
    get route() {
      return worker === undefined ? 'page' : 'worker';
    },
    dispose() {
      for (const id of [...waiting.keys()]) finish(id);
      worker?.terminate();
      worker = undefined;
    },
  };
}

function startWorker(spawn: (() => WorkerLike) | undefined): WorkerLike | undefined {
  try {
    return spawn?.();
  } catch {
    // A browser may forbid workers; the page's own timers are then all there is.
    return undefined;
  }
}
