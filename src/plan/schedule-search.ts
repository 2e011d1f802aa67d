/**
 * The shortest schedule that keeps every bound: branch and bound over the order of tasks that need
 * the same person or the light, on the temporal network of their starts. A choice "a before b" is
 * one more bound; propagation finds what it forces on others (both orders of a pair are tried
 * against the horizon, Carlier & Pinson, Management Science 35:164-176, 1989), a one-machine
 * relaxation bounds what is left, and the schedule that starts everything as early as it can is a
 * solution as soon as nothing collides in it. Deterministic; limited by nodes, never by a clock.
 */
import { present } from '../base/assert.ts';
import { indexAt, realAt } from '../temporal/typed-array.ts';
import { StartRanges } from './schedule-bounds.ts';
import { ORIGIN, type Schedule, type ScheduleProblem } from './schedule-problem.ts';
import { preemptiveFits } from './schedule-relaxation.ts';

interface SearchLimits {
  /** Nodes of the search tree; ten times as many, and at least 1000, until a schedule is found. */
  readonly nodesMax: number;
  /** The search ends once it is proven that no schedule is shorter by more than this share. */
  readonly gapShare: number;
}

const DEFAULT_LIMITS: SearchLimits = { nodesMax: 4000, gapShare: 0.002 };

const UNDECIDED = -1;
const EPS = 1e-6;

interface Pair {
  readonly a: number;
  readonly b: number;
}

/** A choice that is still open: the order of a pair, or who does a task. */
type Branch =
  | { readonly kind: 'order'; readonly pair: number; readonly first: 'a' | 'b' }
  | { readonly kind: 'staff'; readonly task: number; readonly ways: readonly number[] };

/** Long enough for everything one after the other. */
function horizonOf(problem: ScheduleProblem): number {
  const work = problem.tasks.reduce((sum, t) => sum + t.durationMs, 0);
  const waits = problem.arcs.reduce((sum, arc) => sum + Math.max(0, arc.gainMs), 0);
  return work + waits + 1;
}

class ScheduleSearch {
  readonly #ranges: StartRanges;
  readonly #ways: readonly (readonly number[])[];
  /** Resources a task is known to need: all of its way, or what its ways have in common. */
  readonly #needs: Int32Array;
  readonly #staff: Int32Array;
  readonly #pairs: readonly Pair[];
  /** 1 where a pair's order is settled. */
  readonly #isOrdered: Uint8Array;
  readonly #resources: readonly number[];
  readonly #limits: SearchLimits;
  #horizonMs: number;
  #best: { startMs: number[]; staff: number[]; makespanMs: number } | null = null;
  #nodes = 0;
  #isCut = false;
  #rootBoundMs = 0;

  constructor(problem: ScheduleProblem, limits: SearchLimits) {
    const { tasks } = problem;
    this.#limits = limits;
    this.#ranges = new StartRanges(problem);
    this.#ways = tasks.map((t) => [...new Set(t.ways)]);
    this.#staff = Int32Array.from(this.#ways, (ways) =>
      ways.length === 1 ? (ways[0] ?? 0) : UNDECIDED,
    );
    this.#needs = Int32Array.from(this.#ways, (ways) => ways.reduce((a, b) => a & b, -1));
    const used = this.#ways.flat().reduce((a, b) => a | b, 0);
    this.#resources = Array.from({ length: 31 }, (_, r) => 1 << r).filter((r) => (used & r) !== 0);
    this.#pairs = openPairs(problem);
    this.#isOrdered = new Uint8Array(this.#pairs.length);
    this.#horizonMs = horizonOf(problem);
  }

  /** The best schedule found, or null when bounds and people cannot be brought together. */
  run(): Schedule | null {
    const root = this.#ranges.settle(this.#horizonMs) && this.#deduce();
    if (!root) return null;
    this.#rootBoundMs = this.#ranges.earliestEndMs;
    this.#dive();
    if (this.#best === null) return null;
    const provenMs = this.#isCut ? 0 : this.#best.makespanMs * (1 - this.#limits.gapShare);
    return {
      ...this.#best,
      lowerBoundMs: Math.max(this.#rootBoundMs, provenMs),
      nodes: this.#nodes,
    };
  }

  #dive(): void {
    const { nodesMax } = this.#limits;
    // Before there is any schedule at all, more is spent on finding one.
    if (this.#nodes >= (this.#best === null ? Math.max(1000, nodesMax * 10) : nodesMax)) {
      this.#isCut = true;
      return;
    }
    this.#nodes += 1;
    const branch = this.#branch();
    if (branch === null) return;
    for (const option of optionsOf(branch)) {
      const mark = this.#ranges.mark();
      const ordered = this.#isOrdered.slice();
      const staff = this.#staff.slice();
      const needs = this.#needs.slice();
      if (this.#tighten() && this.#take(branch, option) && this.#deduce()) this.#dive();
      this.#ranges.restore(mark);
      this.#isOrdered.set(ordered);
      this.#staff.set(staff);
      this.#needs.set(needs);
      if (this.#isCut) return;
    }
  }

  /** Takes over a horizon that has come down since this node was opened. */
  #tighten(): boolean {
    return this.#best === null || this.#ranges.settle(this.#horizonMs);
  }

  #take(branch: Branch, option: number): boolean {
    if (branch.kind === 'staff') {
      this.#staff[branch.task] = option;
      this.#needs[branch.task] = option;
      return true;
    }
    const pair = present(this.#pairs[branch.pair], 'pair');
    const [first, second] = option === 0 ? [pair.a, pair.b] : [pair.b, pair.a];
    return this.#order(branch.pair, first, second);
  }

  #order(pair: number, first: number, second: number): boolean {
    this.#isOrdered[pair] = 1;
    return this.#ranges.add(first, second, realAt(this.#ranges.durationMs, first));
  }

  /** Settles pairs that can go one way only, until nothing more follows. */
  #deduce(): boolean {
    const { lo, hi, durationMs } = this.#ranges;
    for (let hasChanged = true; hasChanged; ) {
      hasChanged = false;
      for (const [k, { a, b }] of this.#pairs.entries()) {
        if (this.#isOrdered[k] === 1) continue;
        if ((indexAt(this.#needs, a) & indexAt(this.#needs, b)) === 0) continue;
        const aFirst = realAt(lo, a) + realAt(durationMs, a) <= realAt(hi, b) + EPS;
        const bFirst = realAt(lo, b) + realAt(durationMs, b) <= realAt(hi, a) + EPS;
        if (aFirst && bFirst) continue;
        if (!aFirst && !bFirst) return false;
        if (!(aFirst ? this.#order(k, a, b) : this.#order(k, b, a))) return false;
        hasChanged = true;
      }
    }
    return this.#resources.every((r) => preemptiveFits(this.#ranges, this.#needs, r));
  }

  /** The next choice; null when this node holds a solution, which is kept. */
  #branch(): Branch | null {
    const pair = this.#tightestCollision();
    if (pair !== null) return pair;
    const staff = this.#staff.slice();
    const stuck = this.#staffGreedily(staff);
    if (stuck !== null) return { kind: 'staff', task: stuck, ways: this.#ways[stuck] ?? [] };
    const makespanMs = this.#ranges.earliestEndMs;
    this.#best = { startMs: [...this.#ranges.lo], staff: [...staff], makespanMs };
    this.#horizonMs = makespanMs * (1 - this.#limits.gapShare) - EPS * 10;
    return null;
  }

  /** Of the pairs that overlap when all start early, the one with the least room. */
  #tightestCollision(): Branch | null {
    const { lo, hi, durationMs } = this.#ranges;
    let best: Branch | null = null;
    let leastMs = Number.POSITIVE_INFINITY;
    for (const [k, { a, b }] of this.#pairs.entries()) {
      if (this.#isOrdered[k] === 1) continue;
      if ((indexAt(this.#needs, a) & indexAt(this.#needs, b)) === 0) continue;
      const endA = realAt(lo, a) + realAt(durationMs, a);
      const endB = realAt(lo, b) + realAt(durationMs, b);
      if (realAt(lo, b) >= endA - EPS || realAt(lo, a) >= endB - EPS) continue;
      const roomAMs = realAt(hi, b) - endA;
      const roomBMs = realAt(hi, a) - endB;
      const roomMs = Math.min(roomAMs, roomBMs);
      if (roomMs >= leastMs) continue;
      leastMs = roomMs;
      best = { kind: 'order', pair: k, first: roomAMs >= roomBMs ? 'a' : 'b' };
    }
    return best;
  }

  /** Gives each undecided task to whoever is free; the first for whom nobody is, or null. */
  #staffGreedily(staff: Int32Array): number | null {
    const { lo, durationMs, count } = this.#ranges;
    const open = this.#ways.flatMap((_, i) => (indexAt(staff, i) === UNDECIDED ? [i] : []));
    open.sort((a, b) => realAt(lo, a) - realAt(lo, b) || a - b);
    for (const task of open) {
      const startMs = realAt(lo, task);
      const endMs = startMs + realAt(durationMs, task);
      let busy = 0;
      for (let other = 0; other < count; other += 1) {
        const from = realAt(lo, other);
        if (other === task || indexAt(staff, other) === UNDECIDED) continue;
        if (from >= endMs - EPS || from + realAt(durationMs, other) <= startMs + EPS) continue;
        busy |= indexAt(staff, other);
      }
      const free = this.#ways[task]?.find((way) => (way & busy) === 0);
      if (free === undefined) return task;
      staff[task] = free;
    }
    return null;
  }
}

function optionsOf(branch: Branch): readonly number[] {
  if (branch.kind === 'staff') return branch.ways;
  return branch.first === 'a' ? [0, 1] : [1, 0];
}

/** Pairs that may need one resource at the same time and whose order the bounds do not settle. */
function openPairs(problem: ScheduleProblem): Pair[] {
  const { tasks } = problem;
  const masks = tasks.map((t) => t.ways.reduce((a, b) => a | b, 0));
  const isBefore = settledOrders(problem);
  const pairs: Pair[] = [];
  for (let a = 0; a < tasks.length; a += 1) {
    for (let b = a + 1; b < tasks.length; b += 1) {
      if (((masks[a] ?? 0) & (masks[b] ?? 0)) === 0) continue;
      if (tasks[a]?.durationMs === 0 || tasks[b]?.durationMs === 0) continue;
      if (isBefore[a * tasks.length + b] === 1 || isBefore[b * tasks.length + a] === 1) continue;
      pairs.push({ a, b });
    }
  }
  return pairs;
}

/** 1 at `a * n + b` where b surely starts after a has ended: follows minima from start to start. */
function settledOrders({ tasks, arcs }: ScheduleProblem): Uint8Array {
  const n = tasks.length;
  const after = new Uint8Array(n * n);
  const out: number[][] = tasks.map(() => []);
  for (const { from, to, gainMs } of arcs) {
    if (from === ORIGIN || to === ORIGIN || gainMs < (tasks[from]?.durationMs ?? 0)) continue;
    out[from]?.push(to);
  }
  for (let a = 0; a < n; a += 1) {
    const stack = [a];
    for (let next = stack.pop(); next !== undefined; next = stack.pop()) {
      for (const b of out[next] ?? []) {
        if (after[a * n + b] === 1) continue;
        after[a * n + b] = 1;
        stack.push(b);
      }
    }
  }
  return after;
}

/**
 * Schedules a problem as short as it can be shown to be.
 * @returns the schedule, or null when bounds and people cannot be brought together (or not within
 *   the limit of nodes).
 */
export function schedule(
  problem: ScheduleProblem,
  limits: SearchLimits = DEFAULT_LIMITS,
): Schedule | null {
  return new ScheduleSearch(problem, limits).run();
}
