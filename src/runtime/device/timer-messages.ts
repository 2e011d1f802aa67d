/** What the page and its timer worker say to each other. */
import * as v from 'valibot';
import { parsedOr } from '../../protocol/read-outside.ts';

/** From the page: wake me for `id` after `delayMs`, or no longer. */
export type TimerRequest =
  | { readonly type: 'set'; readonly id: number; readonly delayMs: number }
  | { readonly type: 'clear'; readonly id: number };

/** From the worker: the time of `id` has come. */
export interface TimerDue {
  readonly type: 'due';
  readonly id: number;
}

const dueSchema = v.object({ type: v.literal('due'), id: v.number() });

/** Reads a message of the worker; undefined when it is not one. */
export function parseTimerDue(message: unknown): TimerDue | undefined {
  return parsedOr(dueSchema, message) ?? undefined;
}
