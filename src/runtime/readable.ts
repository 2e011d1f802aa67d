import type { StoreApi } from 'zustand/vanilla';
import { isSameJson } from '../base/json.ts';

/** A store that only its owner changes; everyone else reads it and hears of changes. */
export type Readable<T> = Pick<StoreApi<T>, 'getState' | 'getInitialState' | 'subscribe'>;

/** Sets a small status, unless it says what the one before said: no screen is drawn anew for that. */
export function setIfChanged<T>(store: StoreApi<T>, next: T): void {
  if (!isSameJson(store.getState(), next)) store.setState(next, true);
}
