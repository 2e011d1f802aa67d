/**
 * What screens may ask of the tablet itself. Implemented in `main.tsx` from the runtime, so that a
 * screen can be tested with a plain object.
 */

import type { PressDoor } from '../../runtime/keys/press-door.ts';
import type { KeyVerb } from '../../words/codes.ts';

export interface Tablet {
  /** The one way by which what people press reaches the case. */
  readonly door: PressDoor;
  /** Monotonic ms, for spans. */
  realNowMs(): number;
  /** Wall clock, ms since 1970, for what day it is. */
  wallNowMs(): number;
  /** Sounds the "now" pattern so that a person can say whether it was heard. */
  soundTest(): void;
  /** While locked, keys and pedals do nothing. */
  lockKeys(o: { readonly isLocked: boolean }): void;
  /** Hands every key to `listener` and lets none do anything, until the returned function is called. */
  testKeys(
    listener: (seen: { readonly key: string; readonly verb: KeyVerb | null }) => void,
  ): () => void;
  /** Null when the key may be taught to press; else why not. */
  mayTeach(key: string): string | null;
  protectStorage(): Promise<void>;
  applyUpdate(): void;
  /** Lets the browser ask whether to install the app; nothing where it does not offer that. */
  install(): Promise<void>;
  newId(): string;
  /** Says words aloud, where people want that and the tablet has a voice. */
  readonly say?: (words: string) => void;
}
