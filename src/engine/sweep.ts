/** Sweeps: one press as the hands begin to go over a round in order. Times in ms. */
import { SHORT_LIMIT_MS } from '../protocol/short-limit.ts';
import type { Action, Edge, Step } from '../protocol/types.ts';
import { spreadOver } from './axis.ts';
import type { Instance, Layout } from './layout.ts';
import type { SweepMs } from './pressing-types.ts';
import type { CaseInstant } from './types.ts';

/** A dwell with such a limit is begun by a press of its own for each subject. */
export function isShort(action: Action): boolean {
  const maxMs = action.kind === 'dwell' ? action.maxMs?.value : undefined;
  return maxMs !== undefined && maxMs < SHORT_LIMIT_MS;
}

/** Whether another clock with a short limit begins with the end of any of these: then each is pressed. */
const beginsShort = ({ beginners }: Layout, instances: readonly Instance[]): boolean =>
  instances.some(({ key }) => beginners.get(key)?.some(({ step }) => isShort(step.action)));

/** What one press of these stands for at this edge of their step; null where each is pressed. */
export function sweepOver(
  layout: Layout,
  instances: readonly Instance[],
  edge: Edge,
): SweepMs | null {
  const [first] = instances;
  if (first === undefined || (edge === 'end' && beginsShort(layout, instances))) return null;
  return sweepOf(first.step, edge, instances.length);
}

/**
 * The time of one subject where this edge of a step is swept over so many subjects; null where it is not.
 * One alone is pressed like any other.
 */
export function sweepOf({ pressed, action }: Step, edge: Edge, subjects: number): SweepMs | null {
  if (subjects < 2) return null;
  if (edge === 'start' && isShort(action)) return null;
  const time = pressed?.kind === 'sweep' ? pressed[edge] : undefined;
  if (time === undefined) return null;
  return { shortestMs: time.shortestMs.value, longestMs: time.longestMs.value };
}

/** When the hands came to one subject of a sweep, by its place in the order. */
export function sweptAt(at: CaseInstant, sweep: SweepMs, index: number): CaseInstant {
  const { shortestMs, longestMs } = sweep;
  return spreadOver(at, { fromMs: index * shortestMs, toMs: (index + 1) * longestMs });
}
