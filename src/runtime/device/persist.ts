/** Asks the browser to protect what is stored, and tells whether it does. */
import { createStore } from 'zustand/vanilla';
import type { Readable } from '../readable.ts';

export interface StorageStatus {
  /**
   * `protected`: the browser will not clear it by itself. `evictable`: it may, when space is short
   * or the app was not used for long. `unknown`: it does not say.
   */
  readonly protection: 'protected' | 'evictable' | 'unknown';
  readonly usedBytes: number | null;
  readonly quotaBytes: number | null;
  /** Opened as an installed app, whose data browsers keep longer than that of a tab. */
  readonly isInstalled: boolean;
}

/** The part of `navigator.storage` that is used; each may be missing. */
export interface StorageLike {
  persist?(): Promise<boolean>;
  persisted?(): Promise<boolean>;
  estimate?(): Promise<{ readonly usage?: number; readonly quota?: number }>;
}

export interface StorageGuard {
  readonly status: Readable<StorageStatus>;
  /** Reads the state again, without asking for anything. */
  refresh(): Promise<void>;
  /** Asks for protection; some browsers ask the person, so call it from a touch. */
  protect(): Promise<void>;
}

/** Display modes in which there is no browser around the app. */
const INSTALLED_MODES = ['standalone', 'fullscreen', 'minimal-ui'] as const;

/**
 * Makes a {@link StorageGuard}.
 *
 * @param options.matches whether a media query holds now.
 * @param options.isHomeScreenApp `navigator.standalone`, which one browser has in place of the query.
 */
export function createStorageGuard(options: {
  readonly storage: StorageLike | undefined;
  readonly matches: (query: string) => boolean;
  readonly isHomeScreenApp: boolean;
}): StorageGuard {
  const { storage } = options;
  const isInstalled =
    options.isHomeScreenApp ||
    INSTALLED_MODES.some((mode) => options.matches(`(display-mode: ${mode})`));
  const status = createStore<StorageStatus>(() => ({
    protection: 'unknown',
    usedBytes: null,
    quotaBytes: null,
    isInstalled,
  }));

  const refresh = async (): Promise<void> => {
    const [isPersisted, estimate] = await Promise.all([
      orUndefined(storage?.persisted?.()),
      orUndefined(storage?.estimate?.()),
    ]);
    status.setState({
      protection: isPersisted === undefined ? 'unknown' : isPersisted ? 'protected' : 'evictable',
      usedBytes: estimate?.usage ?? null,
      quotaBytes: estimate?.quota ?? null,
      isInstalled,
    });
  };

  return {
    status,
    refresh,
    async protect() {
      await orUndefined(storage?.persist?.());
      await refresh();
    },
  };
}

async function orUndefined<T>(promise: Promise<T> | undefined): Promise<T | undefined> {
  try {
    return await promise;
  } catch {
    // A browser that refuses to say is one that promises nothing.
    return undefined;
  }
}
