/** The only file that knows Zustand: a store outside React, read by screens, set by the session. */
import { createStore } from 'zustand/vanilla';
import type { AppState } from './app-state.ts';

export interface AppStore {
  get(): AppState;
  set(change: Partial<AppState>): void;
  subscribe(listener: () => void): () => void;
}

/** Makes the store of one window. */
export function createAppStore(initial: AppState): AppStore {
  const store = createStore<AppState>(() => initial);
  return {
    get: store.getState,
    set: (change) => store.setState(change),
    subscribe: (listener) => store.subscribe(listener),
  };
}
