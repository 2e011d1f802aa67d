/**
 * One view of the page's life. Browsers tell of it through five events of which none comes always;
 * here they become two: the page can be seen or not, and something has woken it up.
 */
import { createStore } from 'zustand/vanilla';
import type { Readable } from '../readable.ts';
import { signal } from '../signal.ts';

export type WakeCause = 'visible' | 'resumed' | 'shown-again';

/** Whether people can see the page, and when it comes back to life. */
export interface Visibility extends Readable<'visible' | 'hidden'> {
  /**
   * Calls `listener` whenever the page may have missed time: it became visible, was unfrozen, or
   * was brought back from the history cache. Timers and sounds are to be set again then.
   */
  onWake(listener: (cause: WakeCause) => void): () => void;
  /** Calls `listener` when the page is hidden, frozen or left: perhaps the last chance to act. */
  onLeave(listener: () => void): () => void;
  dispose(): void;
}

/** The parts of a document and its window that are listened to. */
export interface PageLike {
  readonly document: EventTarget & { readonly visibilityState: string };
  readonly window: EventTarget;
}

/** Watches the life of `page`. */
export function watchVisibility(page: PageLike): Visibility {
  const now = (): 'visible' | 'hidden' =>
    page.document.visibilityState === 'hidden' ? 'hidden' : 'visible';
  const state = createStore<'visible' | 'hidden'>(() => now());
  const woke = signal<WakeCause>();
  const left = signal<undefined>();

  const onChange = (): void => {
    const before = state.getState();
    state.setState(now());
    if (state.getState() === before) return;
    if (state.getState() === 'visible') woke.emit('visible');
    else left.emit(undefined);
  };
  const onResume = (): void => woke.emit('resumed');
  const onShow = (event: Event): void => {
    // The first showing of a page is a pageshow too, but nothing can have been missed before it.
    if ('persisted' in event && event.persisted === true) woke.emit('shown-again');
  };
  const onLeft = (): void => left.emit(undefined);

  page.document.addEventListener('visibilitychange', onChange);
  page.document.addEventListener('resume', onResume);
  page.document.addEventListener('freeze', onLeft);
  page.window.addEventListener('pageshow', onShow);
  page.window.addEventListener('pagehide', onLeft);
  return {
    getState: state.getState,
    getInitialState: state.getInitialState,
    subscribe: state.subscribe,
    onWake: woke.listen,
    onLeave: left.listen,
    dispose() {
      page.document.removeEventListener('visibilitychange', onChange);
      page.document.removeEventListener('resume', onResume);
      page.document.removeEventListener('freeze', onLeft);
      page.window.removeEventListener('pageshow', onShow);
      page.window.removeEventListener('pagehide', onLeft);
    },
  };
}
