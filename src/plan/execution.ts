/**
 * The order in which a planned case is carried out: every task after what it waits for, and after
 * what the same person or the light did before it. With lengths given, one pass gives all moments;
 * the plan itself, and each draw of the risk, are such passes. Times in ms.
 */
import { assert, present } from '../base/assert.ts';
import { indexAt, realAt } from '../temporal/typed-array.ts';
import { type Activities, type Activity, offsetMs, type TaskEdge, type When } from './activity.ts';
import type { Solved } from './solve-activities.ts';

/** One wait of one task, on an earlier task or on a known moment. */
export interface Wait {
  /** Index of the task waited for, or -1 for a known moment. */
  readonly from: number;
  readonly fromEdge: TaskEdge;
  /** Added to the moment waited for; a known moment is counted in. */
  readonly plusMs: number;
  readonly toEdge: TaskEdge;
  /** Nothing but a window asks for it: begun at once, the task would leave too long a wait behind. */
  readonly isPause?: true;
  /** Whoever or whatever the task needs is needed there until then. */
  readonly isBusy?: true;
}

export interface Execution {
  readonly activities: Activities;
  readonly staff: readonly number[];
  /** Tasks so that each comes after all it waits for. */
  readonly order: readonly number[];
  readonly waits: readonly (readonly Wait[])[];
}

/** For each resource, its tasks in the order in which they are done; tasks of no length need none. */
function chainsOf(solved: Solved): number[][] {
  const { schedule, lengthsMs } = solved;
  const used = schedule.staff.reduce((a, b) => a | b, 0);
  const bits = Array.from({ length: 31 }, (_, r) => 1 << r).filter((bit) => (used & bit) !== 0);
  const startOf = (task: number): number => schedule.startMs[task] ?? 0;
  return bits.map((bit) =>
    schedule.staff
      .flatMap((staff, task) => ((staff & bit) !== 0 && (lengthsMs[task] ?? 0) > 0 ? [task] : []))
      .sort((a, b) => startOf(a) - startOf(b) || a - b),
  );
}

function waitsOf(activities: Activities, solved: Solved): Wait[][] {
  const waits: Wait[][] = activities.tasks.map(() => []);
  for (const { from, to, minMs } of activities.links) {
    const wait =
      'task' in from
        ? { from: from.task, fromEdge: from.edge, plusMs: minMs, toEdge: to.edge }
        : { from: -1, fromEdge: 'start' as const, plusMs: from.atMs + minMs, toEdge: to.edge };
    waits[to.task]?.push(wait);
  }
  for (const chain of chainsOf(solved)) {
    chain.slice(1).forEach((task, i) => {
      const from = present(chain[i], 'task before');
      waits[task]?.push({ from, fromEdge: 'end', plusMs: 0, toEdge: 'start', isBusy: true });
    });
  }
  return waits;
}

/** Earlier starts first, as far as waiting allows (Kahn). */
function orderOf(waits: readonly (readonly Wait[])[], solved: Solved): number[] {
  const after: number[][] = waits.map(() => []);
  const open = new Int32Array(waits.length);
  waits.forEach((list, task) => {
    for (const { from } of list) {
      if (from < 0) continue;
      after[from]?.push(task);
      open[task] = indexAt(open, task) + 1;
    }
  });
  const startOf = (task: number): number => solved.schedule.startMs[task] ?? 0;
  const isLater = (a: number, b: number): boolean =>
    startOf(a) > startOf(b) || (startOf(a) === startOf(b) && a > b);
  // The last one is next.
  const ready: number[] = [];
  const put = (task: number): void => {
    const at = ready.findLastIndex((other) => isLater(other, task));
    ready.splice(at + 1, 0, task);
  };
  waits.forEach((_, task) => {
    if (open[task] === 0) put(task);
  });
  const order: number[] = [];
  for (let task = ready.pop(); task !== undefined; task = ready.pop()) {
    order.push(task);
    for (const next of after[task] ?? []) {
      const left = indexAt(open, next) - 1;
      open[next] = left;
      if (left === 0) put(next);
    }
  }
  assert(order.length === waits.length, 'tasks wait for each other in a circle');
  return order;
}

/** The execution that a schedule stands for. */
export function executionOf(activities: Activities, solved: Solved): Execution {
  const waits = waitsOf(activities, solved);
  const execution = {
    activities,
    staff: solved.schedule.staff,
    order: orderOf(waits, solved),
    waits,
  };
  addPauses(execution, waits, solved);
  return execution;
}

/** Less than this is rounding, not a pause. */
const PAUSE_MS_MIN = 1;

interface PlacedEdge {
  readonly from: number;
  readonly fromEdge: TaskEdge;
  readonly atMs: number;
}

/**
 * A window may ask that something is begun later than it could be. The pause is counted from the
 * last moment before it, as people would: "while the second one is being seated, lay out the tray".
 */
function addPauses(execution: Execution, waits: readonly Wait[][], solved: Solved): void {
  const { activities, order } = execution;
  const plannedMs = (task: number): number =>
    activities.nowMs + (solved.schedule.startMs[task] ?? 0);
  const pass = new ForwardPass(execution);
  pass.lengthMs.set(solved.lengthsMs);
  pass.run();
  const isLate = (task: number, atMs: number): boolean => plannedMs(task) - atMs > PAUSE_MS_MIN;
  if (!order.some((task) => isLate(task, realAt(pass.startMs, task)))) return;
  const placed: PlacedEdge[] = [];
  order.forEach((task, k) => {
    const earliestMs = pass.earliestMs(k);
    const isHeldBack = isLate(task, earliestMs);
    if (isHeldBack) waits[task]?.push(pauseUntil(plannedMs(task), placed));
    pass.startMs[task] = isHeldBack ? plannedMs(task) : earliestMs;
    for (const fromEdge of ['start', 'end'] as const) {
      const atMs = pass.momentMs(task, TASK_EDGES.indexOf(fromEdge));
      placed.push({ from: task, fromEdge, atMs });
    }
  });
}

function pauseUntil(untilMs: number, placed: readonly PlacedEdge[]): Wait {
  let last: PlacedEdge | null = null;
  for (const each of placed) {
    if (each.atMs <= untilMs && each.atMs >= (last?.atMs ?? 0)) last = each;
  }
  const pause = { toEdge: 'start', isPause: true } as const;
  if (last === null) return { ...pause, from: -1, fromEdge: 'start', plusMs: untilMs };
  const { from, fromEdge, atMs } = last;
  return { ...pause, from, fromEdge, plusMs: untilMs - atMs };
}

/** Edges by number, for the flat arrays. */
export const TASK_EDGES: readonly TaskEdge[] = ['start', 'lit', 'end'];

/** Where a moment lies, given starts and lengths of all tasks. */
export function placeOf(
  tasks: readonly Activity[],
  when: When,
  made: { readonly startMs: Float64Array; readonly lengthMs: Float64Array },
): number {
  if (!('task' in when)) return when.atMs;
  const task = present(tasks[when.task], 'task');
  const startMs = realAt(made.startMs, when.task);
  return startMs + offsetMs(task, when.edge, realAt(made.lengthMs, when.task));
}

/** A compiled execution: runs forwards in one pass over flat arrays. */
export class ForwardPass {
  readonly startMs: Float64Array;
  readonly lengthMs: Float64Array;
  readonly #nowMs: number;
  readonly #fixedMs: Float64Array;
  readonly #order: Int32Array;
  readonly #first: Int32Array;
  readonly #from: Int32Array;
  readonly #fromEdge: Int32Array;
  readonly #toEdge: Int32Array;
  readonly #plusMs: Float64Array;

  constructor({ activities, order, waits }: Execution) {
    const count = activities.tasks.length;
    this.startMs = new Float64Array(count);
    this.lengthMs = new Float64Array(count);
    this.#nowMs = activities.nowMs;
    this.#fixedMs = Float64Array.from(activities.tasks, (task) => task.fixedMs);
    this.#order = Int32Array.from(order);
    const inOrder = order.map((task) => waits[task] ?? []);
    const flat = inOrder.flat();
    this.#first = new Int32Array(count + 1);
    inOrder.forEach((list, k) => {
      this.#first[k + 1] = indexAt(this.#first, k) + list.length;
    });
    this.#from = Int32Array.from(flat, (w) => w.from);
    this.#fromEdge = Int32Array.from(flat, (w) => TASK_EDGES.indexOf(w.fromEdge));
    this.#toEdge = Int32Array.from(flat, (w) => TASK_EDGES.indexOf(w.toEdge));
    this.#plusMs = Float64Array.from(flat, (w) => w.plusMs);
  }

  /** Fills `startMs` from `lengthMs`; answers when the last task ends. */
  run(): number {
    let endMs = this.#nowMs;
    for (let k = 0; k < this.#order.length; k += 1) {
      const task = indexAt(this.#order, k);
      const startMs = this.earliestMs(k);
      this.startMs[task] = startMs;
      endMs = Math.max(endMs, startMs + realAt(this.lengthMs, task));
    }
    return endMs;
  }

  /** Earliest start of the task at place `k` of the order, given the starts of those before it. */
  earliestMs(k: number): number {
    const task = indexAt(this.#order, k);
    let startMs = this.#nowMs;
    const last = indexAt(this.#first, k + 1);
    for (let w = indexAt(this.#first, k); w < last; w += 1) {
      const beforeMs = this.momentMs(indexAt(this.#from, w), indexAt(this.#fromEdge, w));
      const ownMs = this.#offsetMs(task, indexAt(this.#toEdge, w));
      startMs = Math.max(startMs, beforeMs + realAt(this.#plusMs, w) - ownMs);
    }
    return startMs;
  }

  /** Where an edge of a task lies after a pass; edges by their place in {@link TASK_EDGES}. */
  momentMs(task: number, edge: number): number {
    return task < 0 ? 0 : realAt(this.startMs, task) + this.#offsetMs(task, edge);
  }

  #offsetMs(task: number, edge: number): number {
    if (edge === 0) return 0;
    const lengthMs = realAt(this.lengthMs, task);
    return edge === 2 ? lengthMs : lengthMs - realAt(this.#fixedMs, task);
  }
}
