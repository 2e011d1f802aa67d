/**
 * What the rest of a case consists of, as the plan sees it: tasks that people do, links "not before"
 * and bounds "not later than". Schedule and risk read the same tasks: the schedule with their
 * expected lengths, the risk with lengths drawn anew each time. Times in ms on the case axis.
 */
import type { SubjectId } from '../protocol/subjects.ts';
import type { Protects, Role, Surface, Window } from '../protocol/types.ts';
import { portableLog } from './portable-math.ts';

/**
 * `hands`: work by hand. `apply` and `finish`: the two rhythms of a round. `wait`: something acts,
 * nobody is needed. `light`: one position of the tip, with the move before it.
 */
export type TaskPart = 'hands' | 'apply' | 'finish' | 'wait' | 'light';

export interface Activity {
  readonly id: string;
  readonly step: string;
  readonly subjects: readonly SubjectId[];
  readonly round: number;
  readonly part: TaskPart;
  /** Null: it needs nobody. */
  readonly by: Role | 'either' | null;
  readonly usesLight: boolean;
  /** The share of the length that no pace changes: a dwell, or the light. */
  readonly fixedMs: number;
  /** Median of the share that the hands take. */
  readonly handsMs: number;
  /** Spread of the hands' share: standard deviation of its logarithm. */
  readonly sigma: number;
  /** `after`: first the hands, then the fixed share. `within`: the longer of the two. */
  readonly fixed: 'after' | 'within';
  readonly surface?: Surface;
  readonly position?: number;
}

/** `lit` is the moment at which the fixed share begins. */
export type TaskEdge = 'start' | 'lit' | 'end';

/** An edge of a task, by its index. */
export interface TaskMoment {
  readonly task: number;
  readonly edge: TaskEdge;
}

/** A moment of a task, or one that has happened. */
export type When = TaskMoment | { readonly atMs: number };

/** `to` comes at least `minMs` after `from`. */
export interface Link {
  readonly from: When;
  readonly to: TaskMoment;
  readonly minMs: number;
}

/** `to` should come at most `maxMs` after `from`. */
export interface Bound {
  /** Window id, or step id for the maximum of a dwell. */
  readonly of: string;
  readonly what: 'window' | 'dwell';
  readonly subject: SubjectId;
  /** Where it starts from, by subject: bounds that share it are one band. */
  readonly fromSubject: SubjectId;
  readonly from: When;
  readonly to: TaskMoment;
  readonly maxMs: number;
  readonly severity: Window['severity'];
  readonly protects: Protects | null;
}

export interface Activities {
  /** No task starts before this. */
  readonly nowMs: number;
  readonly tasks: readonly Activity[];
  readonly links: readonly Link[];
  readonly bounds: readonly Bound[];
}

/** Quantile 0.9 of the standard normal distribution (Wichura, AS 241, gives 1.2815515655446). */
const Z_P90 = 1.2815515655446004;

/** Standard deviation of the logarithm of a log-normal time with this median and 90th percentile. */
export function sigmaOf(pace: { readonly medianMs: number; readonly p90Ms: number }): number {
  return pace.p90Ms > pace.medianMs && pace.medianMs > 0
    ? portableLog(pace.p90Ms / pace.medianMs) / Z_P90
    : 0;
}

/** Length of a task whose hands take `handsMs`. */
function lengthMs(task: Pick<Activity, 'fixed' | 'fixedMs'>, handsMs: number): number {
  return task.fixed === 'after' ? handsMs + task.fixedMs : Math.max(handsMs, task.fixedMs);
}

/** Length of a task when everybody works at their usual pace. */
export const expectedMs = (task: Activity): number => lengthMs(task, task.handsMs);

/** How far an edge of a task lies behind its start, given the length of the task. */
export function offsetMs(task: Activity, edge: TaskEdge, taskMs: number): number {
  if (edge === 'start') return 0;
  return edge === 'end' ? taskMs : taskMs - task.fixedMs;
}
