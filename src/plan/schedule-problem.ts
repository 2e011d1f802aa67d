/**
 * What the scheduling core works on: tasks of known length that need people and the light, and
 * bounds between their starts. A bound is an arc "start of `to` comes at least `gainMs` after start
 * of `from`"; a negative gain is a maximum read backwards, as in the temporal network. Everything
 * has one of each resource, so two tasks that need the same one cannot overlap.
 */

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
