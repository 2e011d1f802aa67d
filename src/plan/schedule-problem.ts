/**
 * What the scheduling core works on: tasks of known length that need people and the light, and
 * bounds between their starts. A bound is an arc "start of `to` comes at least `gainMs` after start
 * of `from`"; a negative gain is a maximum read backwards, as in the temporal network. Everything
 * has one of each resource, so two tasks that need the same one cannot overlap.
 */
import { assert } from '../base/assert.ts';

/** Stands for the origin of the axis in arcs: a release, or backwards a deadline. */
export const ORIGIN = -1;

export interface ScheduleTask {
  readonly durationMs: number;
  /**
   * Ways to staff the task, each a bit set of resources. One entry 0: it needs nobody. Two entries:
   * either person can do it.
   */
  readonly ways: readonly number[];
}

export interface ScheduleArc {
  /** Index of a task, or {@link ORIGIN}. */
  readonly from: number;
  readonly to: number;
  readonly gainMs: number;
}

export interface ScheduleProblem {
  readonly tasks: readonly ScheduleTask[];
  readonly arcs: readonly ScheduleArc[];
}

/** A schedule that keeps every arc and never needs one resource twice at a time. */
export interface Schedule {
  readonly startMs: readonly number[];
  /** The way each task is staffed, a bit set of resources. */
  readonly staff: readonly number[];
  /** End of the last task. */
  readonly makespanMs: number;
  /** No schedule ends before this. */
  readonly lowerBoundMs: number;
  /** Nodes of the search tree that were opened. */
  readonly nodes: number;
}

/** Throws when a schedule breaks its problem: a guard for callers and tests. */
export function assertKept(problem: ScheduleProblem, schedule: Schedule): void {
  const { tasks, arcs } = problem;
  const startOf = (task: number): number =>
    task === ORIGIN ? 0 : (schedule.startMs[task] ?? Number.NaN);
  for (const arc of arcs) {
    const room = startOf(arc.to) - startOf(arc.from) - arc.gainMs;
    assert(room >= -1e-3, `arc ${arc.from} -> ${arc.to} is broken by ${-room} ms`);
  }
  const inTime = tasks.map((_, i) => i).sort((a, b) => startOf(a) - startOf(b));
  for (const [at, a] of inTime.entries()) {
    const endMs = startOf(a) + (tasks[a]?.durationMs ?? 0);
    for (const b of inTime.slice(at + 1)) {
      if (startOf(b) >= endMs - 1e-3) break;
      const shared = (schedule.staff[a] ?? 0) & (schedule.staff[b] ?? 0);
      const overlap = Math.min(endMs, startOf(b) + (tasks[b]?.durationMs ?? 0)) - startOf(b);
      assert(shared === 0 || overlap <= 1e-3, `tasks ${a} and ${b} need one resource at a time`);
    }
  }
}
