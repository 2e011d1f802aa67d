/** The store of one window, outside React: read by screens, set by the session. */
import { createStore, type StoreApi } from 'zustand/vanilla';
import type { AppState } from './app-state.ts';

export type AppStore = StoreApi<AppState>;

/** Makes the store of one window. */
export function createAppStore(initial: AppState): AppStore {
  return createStore<AppState>(() => initial);
}
