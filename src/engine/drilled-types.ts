/** That a rehearsal is a drill, as its first entry says it: all else is drawn from the case and the seed. */
import type { Mishap } from '../protocol/types.ts';

export interface Drilled {
  /** A whole number from 0 to 2147483647. */
  readonly seed: number;
  /** Kinds of mishap that it was drawn toward. */
  readonly toward: readonly Mishap[];
  /** Entries up to here were played before people began; ms since the opening. */
  readonly beginsAtMs: number;
  /** Id of the card before which it was taken up again; absent in a drill that was drawn anew. */
  readonly again?: string;
}
