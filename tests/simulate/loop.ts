/**
 * Simulated time. Every timer, every answer of the database and every message waits in one queue; a
 * step takes the next one and lets all promises run out before the one after it. Nothing waits for real.
 */

/** Whose code runs: a page that may be dead, or held up while its tablet sleeps or it is frozen. */
export interface Owner {
  readonly isDead: boolean;
  readonly heldUntilMs: number;
  /** Told after each task that was its own. */
  ran?(): void;
}

interface Task {
  readonly id: number;
  atMs: number;
  readonly order: number;
  readonly owner: Owner | null;
  readonly run: () => void;
}

const realImmediate = globalThis.setImmediate;

const isBefore = (a: Task, b: Task): boolean =>
  a.atMs < b.atMs || (a.atMs === b.atMs && a.order < b.order);

export class Loop {
  nowMs = 0;
  /** Whose task this is, as long as it and its promises run. */
  current: Owner | null = null;
  /** Called after every step. */
  onStep: () => void = () => undefined;
  steps = 0;
  /** Whether work goes on outside of this queue, which a step waits for. */
  isBusy: () => boolean = () => false;
  readonly #heap: Task[] = [];
  readonly #cancelled = new Set<number>();
  #nextId = 1;

  /** Runs `run` after `delayMs`, as part of `owner`. A dead one's calls do nothing. */
  after(delayMs: number, run: () => void, owner: Owner | null = this.current): number {
    const id = this.#nextId++;
    if (owner?.isDead === true) return id;
    // What is shorter than that would not move the time at all.
    const waitMs = delayMs > 0 ? Math.max(delayMs, 0.001) : 0;
    this.#push({ id, atMs: this.nowMs + waitMs, order: id, owner, run });
    return id;
  }

  cancel(id: number): void {
    this.#cancelled.add(id);
  }

  /** Runs `act` as part of `owner`, now; with its promises, where nobody else's code runs. */
  as<T>(owner: Owner, act: () => T): T {
    const before = this.current;
    this.current = owner;
    try {
      return act();
    } finally {
      this.current = before ?? owner;
    }
  }

  /** Takes the next task; false when none is left at or before `untilMs`. */
  async step(untilMs: number): Promise<boolean> {
    const task = this.#heap[0];
    if (task === undefined || task.atMs > untilMs) return false;
    this.#pop();
    if (this.#cancelled.delete(task.id) || task.owner?.isDead === true) return true;
    const heldMs = task.owner?.heldUntilMs ?? 0;
    if (heldMs > task.atMs) {
      task.atMs = heldMs;
      this.#push(task);
      return true;
    }
    this.nowMs = Math.max(this.nowMs, task.atMs);
    this.current = task.owner;
    task.run();
    await this.settle();
    this.current = null;
    task.owner?.ran?.();
    this.steps += 1;
    this.onStep();
    return true;
  }

  /** Lets every promise that can go on do so. */
  async settle(): Promise<void> {
    do {
      await new Promise((resolve) => realImmediate(resolve));
    } while (this.isBusy());
  }

  /** Runs until `untilMs`. */
  async runTo(untilMs: number): Promise<void> {
    while (await this.step(untilMs)) {
      // Each step is one task.
    }
    this.nowMs = Math.max(this.nowMs, untilMs);
  }

  /** Steps until the promise has settled. */
  async awaited<T>(promise: Promise<T>, withinMs = 120_000): Promise<T> {
    let isDone = false;
    const mark = (): void => {
      isDone = true;
    };
    promise.then(mark, mark);
    await this.settle();
    const untilMs = this.nowMs + withinMs;
    while (!isDone && (await this.step(untilMs))) {
      // Each step is one task.
    }
    this.current = null;
    if (!isDone) throw new Error(`nothing came within ${withinMs} ms`);
    return promise;
  }

  #push(task: Task): void {
    const heap = this.#heap;
    let i = heap.push(task) - 1;
    while (i > 0) {
      const up = (i - 1) >> 1;
      const parent = heap[up];
      if (parent === undefined || !isBefore(task, parent)) break;
      heap[i] = parent;
      i = up;
    }
    heap[i] = task;
  }

  #pop(): void {
    const heap = this.#heap;
    const last = heap.pop();
    if (last === undefined || heap.length === 0) return;
    let i = 0;
    for (;;) {
      const left = 2 * i + 1;
      const right = left + 1;
      const a = heap[left];
      const b = heap[right];
      const [child, at] =
        b !== undefined && a !== undefined && isBefore(b, a) ? [b, right] : [a, left];
      if (child === undefined || !isBefore(child, last)) break;
      heap[i] = child;
      i = at;
    }
    heap[i] = last;
  }
}
