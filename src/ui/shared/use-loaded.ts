/** One way to wait for something on a screen: an answer that comes too late is dropped. */
import { type DependencyList, useEffect, useState } from 'react';

/** How far loading is; there is a value once it is loaded. */
export type Loaded<T> =
  | { readonly state: 'loading' | 'failed'; readonly value: undefined }
  | { readonly state: 'loaded'; readonly value: T };

interface Answer<T> {
  readonly to: DependencyList;
  readonly loaded: Loaded<T>;
}

const LOADING: Loaded<never> = { state: 'loading', value: undefined };
const FAILED: Loaded<never> = { state: 'failed', value: undefined };

const isSame = (a: DependencyList, b: DependencyList): boolean =>
  a.length === b.length && a.every((part, i) => Object.is(part, b[i]));

/**
 * Loads what a screen shows. An answer is dropped when the screen has closed or has asked for
 * something else meanwhile, so that the newest question always wins.
 * @param load gets a signal that aborts when its answer is no longer wanted.
 * @param of what is asked for: when it changes, nothing is shown of what was there before.
 * @param again a change here asks for the same again; what was found stays until the new answer.
 */
export function useLoaded<T>(
  load: (signal: AbortSignal) => Promise<T>,
  of: DependencyList,
  again: DependencyList = [],
): Loaded<T> {
  const [answer, setAnswer] = useState<Answer<T> | null>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: the caller names what asks anew.
  useEffect(() => {
    const asking = new AbortController();
    const { signal } = asking;
    const tell = (loaded: Loaded<T>): void => {
      if (!signal.aborted) setAnswer({ to: of, loaded });
    };
    load(signal).then(
      (value) => tell({ state: 'loaded', value }),
      () => tell(FAILED),
    );
    return () => asking.abort();
  }, [...of, ...again]);
  return answer !== null && isSame(answer.to, of) ? answer.loaded : LOADING;
}
