/**
 * One resource alone, tasks may be interrupted: if even then not every task ends in time, no
 * schedule within the horizon exists. Earliest due date first is exact for this relaxation
 * (Jackson's preemptive schedule; Carlier, European Journal of Operational Research 11:42-47, 1982).
 */
import { indexAt, realAt } from '../temporal/typed-array.ts';
import type { StartRanges } from './schedule-bounds.ts';

const EPS = 1e-6;

/** Whether all tasks that need `resource` (one bit) fit between their earliest and latest starts. */
export function preemptiveFits(ranges: StartRanges, needs: Int32Array, resource: number): boolean {
  const { lo, hi, durationMs, count } = ranges;
  const tasks: number[] = [];
  for (let i = 0; i < count; i += 1) {
    if ((indexAt(needs, i) & resource) !== 0 && realAt(durationMs, i) > 0) tasks.push(i);
  }
  tasks.sort((a, b) => realAt(lo, a) - realAt(lo, b));
  const dueMs = (i: number): number => realAt(hi, i) + realAt(durationMs, i);
  // Released and not finished, kept in order of due date: few at a time in practice.
  const waiting: { readonly task: number; leftMs: number }[] = [];
  let nowMs = 0;
  for (let next = 0; next < tasks.length || waiting.length > 0; ) {
    const task = tasks[next];
    // A read at -1 would make every checked read of the engine slow from then on.
    const releaseMs = task === undefined ? Number.NaN : realAt(lo, task);
    const current = waiting[0];
    if (current === undefined || releaseMs <= nowMs + EPS) {
      if (current === undefined) nowMs = Math.max(nowMs, releaseMs);
      if (task === undefined) break;
      const at = waiting.findIndex((w) => dueMs(w.task) > dueMs(task));
      waiting.splice(at < 0 ? waiting.length : at, 0, { task, leftMs: realAt(durationMs, task) });
      next += 1;
      continue;
    }
    const untilMs = Number.isNaN(releaseMs) ? Number.POSITIVE_INFINITY : releaseMs;
    const stepMs = Math.min(current.leftMs, untilMs - nowMs);
    nowMs += stepMs;
    current.leftMs -= stepMs;
    if (current.leftMs > EPS) continue;
    if (nowMs > dueMs(current.task) + EPS) return false;
    waiting.shift();
  }
  return true;
}
