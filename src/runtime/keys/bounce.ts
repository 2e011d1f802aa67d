import type { Command } from '../../engine/commands.ts';
import type { KeyVerb } from '../../words/codes.ts';

/** What one key or the press bar may do. None of them can lose anything. */
export type Verb = KeyVerb;

/** What is guarded: each thing that a touch can ask for by itself, and the press that was earlier. */
export type Touch = Verb | Command['do'] | 'ago' | 'hand-over' | `line ${string}`;

/** Two presses closer together than this, in ms, are one: a pedal bounces, a glove slips. */
export const BOUNCE_MS = 400;

/** Takes the second of two presses away. One guard serves the bar, the keys and the pedal alike. */
export interface BounceGuard {
  /** True when the press counts; false when it follows the last one that counted too closely. */
  accept(touch: Touch): boolean;
}

/** Makes a {@link BounceGuard} on a real monotonic clock in ms. */
export function createBounceGuard(options: {
  readonly realNowMs: () => number;
  readonly bounceMs?: number;
}): BounceGuard {
  const bounceMs = options.bounceMs ?? BOUNCE_MS;
  const acceptedAtMs = new Map<Touch, number>();
  return {
    accept(touch) {
      const now = options.realNowMs();
      const last = acceptedAtMs.get(touch);
      if (last !== undefined && now - last < bounceMs) return false;
      acceptedAtMs.set(touch, now);
      return true;
    },
  };
}
