/**
 * Earliest and latest starts under bounds that are added and taken back during a search: the
 * incremental twin of the temporal network, for one horizon. Longest paths raise the earliest
 * starts, and lower the latest ones; a start whose range is empty shows that the choices so far
 * cannot all be kept within the horizon.
 */
import { indexAt, realAt } from '../temporal/typed-array.ts';
import { ORIGIN, type ScheduleProblem } from './schedule-problem.ts';

const EPS = 1e-6;

/** What has to be remembered to take choices back. */
export interface Mark {
  readonly lo: Float64Array;
  readonly hi: Float64Array;
  readonly arcCount: number;
}

/** Ranges of starts, and the arcs between them. */
export class StartRanges {
  readonly count: number;
  readonly durationMs: Float64Array;
  readonly lo: Float64Array;
  readonly hi: Float64Array;
  readonly #heads: number[] = [];
  readonly #tails: number[] = [];
  readonly #gains: number[] = [];
  readonly #out: number[][];
  readonly #in: number[][];
  readonly #queued: Uint8Array;
  readonly #times: Int32Array;

  constructor(problem: ScheduleProblem) {
    this.count = problem.tasks.length;
    this.durationMs = Float64Array.from(problem.tasks, (t) => t.durationMs);
    this.lo = new Float64Array(this.count);
    this.hi = new Float64Array(this.count).fill(Number.POSITIVE_INFINITY);
    this.#out = problem.tasks.map(() => []);
    this.#in = problem.tasks.map(() => []);
    this.#queued = new Uint8Array(this.count);
    this.#times = new Int32Array(this.count);
    for (const { from, to, gainMs } of problem.arcs) {
      if (from === ORIGIN && to === ORIGIN) continue;
      if (from === ORIGIN) this.lo[to] = Math.max(realAt(this.lo, to), gainMs);
      else if (to === ORIGIN) this.hi[from] = Math.min(realAt(this.hi, from), -gainMs);
      else this.#link(from, to, gainMs);
    }
  }

  #link(from: number, to: number, gainMs: number): void {
    const arc = this.#gains.length;
    this.#tails.push(from);
    this.#heads.push(to);
    this.#gains.push(gainMs);
    this.#out[from]?.push(arc);
    this.#in[to]?.push(arc);
  }

  /** Everything settled from scratch under a horizon; false when it cannot be kept. */
  settle(horizonMs: number): boolean {
    for (let i = 0; i < this.count; i += 1) {
      const last = horizonMs - realAt(this.durationMs, i);
      if (last < realAt(this.hi, i)) this.hi[i] = last;
    }
    const all = Array.from({ length: this.count }, (_, i) => i);
    // Tasks come roughly in order of time, so that few have to be looked at twice.
    return this.#raise([...all]) && this.#lower(all.reverse());
  }

  /** Adds an arc and follows it; false when it cannot be kept. */
  add(from: number, to: number, gainMs: number): boolean {
    this.#link(from, to, gainMs);
    const lo = realAt(this.lo, from) + gainMs;
    if (lo > realAt(this.lo, to) + EPS) {
      if (lo > realAt(this.hi, to) + EPS) return false;
      this.lo[to] = lo;
      if (!this.#raise([to])) return false;
    }
    const hi = realAt(this.hi, to) - gainMs;
    if (hi < realAt(this.hi, from) - EPS) {
      if (hi < realAt(this.lo, from) - EPS) return false;
      this.hi[from] = hi;
      return this.#lower([from]);
    }
    return true;
  }

  mark(): Mark {
    return { lo: this.lo.slice(), hi: this.hi.slice(), arcCount: this.#gains.length };
  }

  /** Back to a mark; marks are taken back in the order opposite to their making. */
  restore(mark: Mark): void {
    this.lo.set(mark.lo);
    this.hi.set(mark.hi);
    while (this.#gains.length > mark.arcCount) {
      this.#gains.pop();
      this.#out[this.#tails.pop() ?? 0]?.pop();
      this.#in[this.#heads.pop() ?? 0]?.pop();
    }
  }

  /** End of the last task when every task starts as early as it can. */
  get earliestEndMs(): number {
    let endMs = 0;
    for (let i = 0; i < this.count; i += 1) {
      endMs = Math.max(endMs, realAt(this.lo, i) + realAt(this.durationMs, i));
    }
    return endMs;
  }

  #raise(queue: number[]): boolean {
    this.#open(queue);
    for (let k = 0; k < queue.length; k += 1) {
      const node = queue[k] ?? 0;
      this.#queued[node] = 0;
      const base = realAt(this.lo, node);
      for (const arc of this.#out[node] ?? []) {
        const head = this.#heads[arc] ?? 0;
        const lo = base + (this.#gains[arc] ?? 0);
        if (!(lo > realAt(this.lo, head) + EPS)) continue;
        if (lo > realAt(this.hi, head) + EPS) return false;
        this.lo[head] = lo;
        if (this.#queued[head] === 1) continue;
        // A start that comes up more often than there are tasks lies on a cycle that raises itself.
        if (this.#comesUpTooOften(head)) return false;
        this.#queued[head] = 1;
        queue.push(head);
      }
    }
    return true;
  }

  #lower(queue: number[]): boolean {
    this.#open(queue);
    for (let k = 0; k < queue.length; k += 1) {
      const node = queue[k] ?? 0;
      this.#queued[node] = 0;
      const base = realAt(this.hi, node);
      for (const arc of this.#in[node] ?? []) {
        const tail = this.#tails[arc] ?? 0;
        const hi = base - (this.#gains[arc] ?? 0);
        if (!(hi < realAt(this.hi, tail) - EPS)) continue;
        if (hi < realAt(this.lo, tail) - EPS) return false;
        this.hi[tail] = hi;
        if (this.#queued[tail] === 1) continue;
        if (this.#comesUpTooOften(tail)) return false;
        this.#queued[tail] = 1;
        queue.push(tail);
      }
    }
    return true;
  }

  #open(queue: readonly number[]): void {
    this.#queued.fill(0);
    this.#times.fill(0);
    for (const node of queue) this.#queued[node] = 1;
  }

  #comesUpTooOften(node: number): boolean {
    const times = indexAt(this.#times, node) + 1;
    this.#times[node] = times;
    return times > this.count;
  }
}
