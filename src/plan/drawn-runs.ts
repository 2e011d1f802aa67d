/**
 * A planned order carried out many times side by side: task by task, and of each task all runs of a
 * block at once, in flat arrays. What one run is, {@link ForwardPass} says; this is the same for
 * many, since the draws take most of the time of a plan. Times in ms.
 */
import { indexAt } from '../temporal/typed-array.ts';
import type { Bound, TaskEdge } from './activity.ts';
import type { Execution, Wait } from './execution.ts';

/** Runs in one block: what is touched together stays in the fast memory of a small processor. */
export const BLOCK_RUNS = 50;

/**
 * For each place of the order what its task waits for, without what another wait implies already:
 * a task that is over before one that this one waits for has begun never decides.
 */
export function needed(order: readonly number[], waits: Execution['waits']): (readonly Wait[])[] {
  const words = (order.length + 31) >> 5;
  /** By task, as bits: tasks that are over when it begins. */
  const over = new Map<number, Int32Array>();
  return order.map((task) => {
    const list = waits[task] ?? [];
    const before = new Int32Array(words);
    const isImplied = new Int32Array(words);
    for (const { from, fromEdge, plusMs, toEdge } of list) {
      if (from < 0 || toEdge !== 'start' || plusMs < 0) continue;
      over.get(from)?.forEach((bits, word) => {
        isImplied[word] = indexAt(isImplied, word) | bits;
        before[word] = indexAt(before, word) | bits;
      });
      if (fromEdge === 'end') before[from >> 5] = indexAt(before, from >> 5) | (1 << (from & 31));
    }
    over.set(task, before);
    const implied = (i: number): boolean => (indexAt(isImplied, i >> 5) & (1 << (i & 31))) !== 0;
    return list.filter(
      ({ from, fromEdge, plusMs, toEdge }) =>
        !(from >= 0 && fromEdge === 'end' && plusMs === 0 && toEdge === 'start' && implied(from)),
    );
  });
}

export class DrawnRuns {
  /** By task: its start and its length in each run of the block. */
  readonly startMs: readonly Float64Array[];
  readonly lengthMs: readonly Float64Array[];
  /** When the last task ends, by run. */
  readonly endMs = new Float64Array(BLOCK_RUNS);
  readonly #execution: Execution;
  readonly #waits: readonly (readonly Wait[])[];
  readonly #fixedMs: readonly number[];
  readonly #momentMs = new Float64Array(BLOCK_RUNS);

  constructor(execution: Execution) {
    this.#execution = execution;
    const { tasks } = execution.activities;
    this.startMs = tasks.map(() => new Float64Array(BLOCK_RUNS));
    this.lengthMs = tasks.map(() => new Float64Array(BLOCK_RUNS));
    this.#fixedMs = tasks.map((task) => task.fixedMs);
    this.#waits = needed(execution.order, execution.waits);
  }

  /** Fills all starts from all lengths. */
  run(): void {
    const { activities, order } = this.#execution;
    const { endMs } = this;
    endMs.fill(activities.nowMs);
    for (const [k, task] of order.entries()) {
      const startMs = this.startMs[task] ?? endMs;
      const lengthMs = this.lengthMs[task] ?? endMs;
      startMs.fill(activities.nowMs);
      for (const wait of this.#waits[k] ?? []) this.#waitFor(wait, task, startMs);
      for (let r = 0; r < BLOCK_RUNS; r += 1) {
        const ownEndMs = (startMs[r] ?? 0) + (lengthMs[r] ?? 0);
        if (ownEndMs > (endMs[r] ?? 0)) endMs[r] = ownEndMs;
      }
    }
  }

  /** Puts the start of a task off until what it waits for has come, in each run. */
  #waitFor({ from, fromEdge, plusMs, toEdge }: Wait, task: number, startMs: Float64Array): void {
    const atMs = this.momentMs(from, fromEdge);
    const ownMs = this.lengthMs[task] ?? startMs;
    const fixedMs = this.#fixedMs[task] ?? 0;
    if (toEdge === 'start') putOff(startMs, atMs, plusMs);
    else putOffEdge(startMs, { atMs, plusMs, ownMs, fixedMs: toEdge === 'end' ? 0 : fixedMs });
  }

  /** Where an edge of a task lies in each run; 0 for no task. The next call overwrites it. */
  momentMs(task: number, edge: TaskEdge): Float64Array {
    const atMs = this.#momentMs;
    const startMs = this.startMs[task];
    const lengthMs = this.lengthMs[task];
    if (startMs === undefined || lengthMs === undefined) return atMs.fill(0);
    if (edge === 'start') return startMs;
    addEdge(atMs, { startMs, lengthMs, fixedMs: edge === 'end' ? 0 : (this.#fixedMs[task] ?? 0) });
    return atMs;
  }

  /** Lowers `roomMs` to the room that a bound leaves in each run; negative where it is broken. */
  lowerToRoom({ from, to, maxMs }: Bound, roomMs: Float64Array): void {
    const passedMs = this.#passedMs;
    passedMs.set(this.momentMs(to.task, to.edge));
    if ('task' in from) {
      const fromMs = this.momentMs(from.task, from.edge);
      for (let r = 0; r < BLOCK_RUNS; r += 1) {
        passedMs[r] = (passedMs[r] ?? 0) - (fromMs[r] ?? 0);
      }
    } else for (let r = 0; r < BLOCK_RUNS; r += 1) passedMs[r] = (passedMs[r] ?? 0) - from.atMs;
    for (let r = 0; r < BLOCK_RUNS; r += 1) {
      const ownMs = maxMs - (passedMs[r] ?? 0);
      if (ownMs < (roomMs[r] ?? 0)) roomMs[r] = ownMs;
    }
  }

  readonly #passedMs = new Float64Array(BLOCK_RUNS);
}

function addEdge(
  atMs: Float64Array,
  o: { readonly startMs: Float64Array; readonly lengthMs: Float64Array; readonly fixedMs: number },
): void {
  const { startMs, lengthMs, fixedMs } = o;
  for (let r = 0; r < BLOCK_RUNS; r += 1) {
    atMs[r] = (startMs[r] ?? 0) + ((lengthMs[r] ?? 0) - fixedMs);
  }
}

function putOff(startMs: Float64Array, atMs: Float64Array, plusMs: number): void {
  for (let r = 0; r < BLOCK_RUNS; r += 1) {
    const earliestMs = (atMs[r] ?? 0) + plusMs;
    if (earliestMs > (startMs[r] ?? 0)) startMs[r] = earliestMs;
  }
}

function putOffEdge(
  startMs: Float64Array,
  o: {
    readonly atMs: Float64Array;
    readonly plusMs: number;
    readonly ownMs: Float64Array;
    readonly fixedMs: number;
  },
): void {
  const { atMs, plusMs, ownMs, fixedMs } = o;
  for (let r = 0; r < BLOCK_RUNS; r += 1) {
    const earliestMs = (atMs[r] ?? 0) + plusMs - ((ownMs[r] ?? 0) - fixedMs);
    if (earliestMs > (startMs[r] ?? 0)) startMs[r] = earliestMs;
  }
}
