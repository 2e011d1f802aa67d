/**
 * Whether a case runs in any window of this origin. Each window holds a shared Web Lock for as long as it
 * runs one; a lock goes away with its page, so a crash leaves none behind.
 */

/** Held in common by every window that runs a case. */
const CASE_LOCK = 'lutewatch-case-runs';

type Locks = Pick<LockManager, 'request'>;

export interface CaseSign {
  /** What this window does. */
  show(isRunning: boolean): void;
  /** Does this where no window runs a case; null, and nothing done, where one does. A case that begins meanwhile does not wait. */
  whileNone<T>(run: () => Promise<T>): Promise<T | null>;
}

/** Without Web Locks no window can be asked: what waits for none is done at once. */
export function createCaseSign(locks: Locks | undefined): CaseSign {
  let release: (() => void) | null = null;
  return {
    show(isRunning) {
      if (isRunning === (release !== null) || locks === undefined) return;
      if (!isRunning) {
        release?.();
        release = null;
        return;
      }
      const until = new Promise<void>((resolve) => {
        release = resolve;
      });
      // Not waited for: a case never waits for an update.
      void locks.request(CASE_LOCK, { mode: 'shared' }, () => until);
    },
    async whileNone(run) {
      if (locks === undefined) return run();
      return locks.request(CASE_LOCK, { mode: 'exclusive', ifAvailable: true }, async (lock) =>
        lock === null ? null : run(),
      );
    },
  };
}
