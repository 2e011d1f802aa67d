/** What the page and its timer worker say to each other. */

/** From the page: wake me for `id` after `delayMs`, or no longer. */
export type TimerRequest =
  | { readonly type: 'set'; readonly id: number; readonly delayMs: number }
  | { readonly type: 'clear'; readonly id: number };

/** From the worker: the time of `id` has come. */
export interface TimerDue {
  readonly type: 'due';
  readonly id: number;
}

/** Reads a message of the worker; undefined when it is not one. */
export function parseTimerDue(message: unknown): TimerDue | undefined {
  if (typeof message !== 'object' || message === null) return undefined;
  if (!('type' in message) || message.type !== 'due') return undefined;
  if (!('id' in message) || typeof message.id !== 'number') return undefined;
  return { type: 'due', id: message.id };
}
