/**
 * The order of writes. One write at a time goes to the database and then to the file; it is
 * acknowledged when both have answered. When the connection is lost the queue keeps its order,
 * writes what it can to the file, opens the database again and goes on where it stopped.
 */
import type { Result } from '../base/result.ts';
import { nameOf } from './database-open.ts';
import type { FileKeeper } from './file-keeper.ts';
import type { FileRecord } from './file-lines.ts';
import { refuse } from './journal-problem.ts';
import type { JournalProblem, JournalProblemCode, JournalResult } from './journal-types.ts';
import type { JournalDatabase } from './migrations.ts';

/** One write. `store` may run twice: its first answer can be lost with the connection. */
export interface Write<T> {
  readonly store: (database: JournalDatabase) => JournalResult<T>;
  /** What the file gets before the database is asked. */
  readonly first?: readonly FileRecord[];
  /** What the file gets once the database has it. */
  readonly records: (stored: T) => readonly FileRecord[];
  /** What the file can get before the database answers; null when that is not known. */
  readonly early: () => readonly FileRecord[] | null;
  /** Runs after both homes have answered, before the next write. */
  readonly after?: (stored: T) => Promise<void>;
}

interface Waiting {
  /** Runs against the database; rejects when the connection is lost. Returns how to tell it. */
  readonly attempt: (database: JournalDatabase) => Promise<() => void>;
  readonly early: () => readonly FileRecord[] | null;
  readonly fail: (problem: JournalProblem) => void;
  inFile: boolean;
}

interface QueueHost {
  /** The open connection, opening one if need be. Rejects or fails while there is none. */
  readonly connect: () => JournalResult<JournalDatabase>;
  readonly dropConnection: () => void;
  readonly file: FileKeeper;
  readonly onChange: () => void;
}

/** A transaction without an answer for this long is taken for lost. */
const ANSWER_WITHIN_MS = 4000;
/** A press that waits longer than this is shown as not saved. */
const LATE_AFTER_MS = 1000;
const PAUSES_MS = [50, 200, 500, 1000, 2000];

export class WriteQueue {
  readonly #host: QueueHost;
  #waiting: Waiting[] = [];
  #pump: Promise<void> | null = null;
  #problem: JournalProblemCode | null = null;
  #isLate = false;
  #isEnded = false;
  #wake: () => void = () => undefined;

  constructor(host: QueueHost) {
    this.#host = host;
  }

  get length(): number {
    return this.#waiting.length;
  }

  /** Why writes are held up; null while they are not. */
  get problem(): JournalProblemCode | null {
    return this.#problem;
  }

  get isHeldUp(): boolean {
    return this.#waiting.length > 0 && (this.#isLate || this.#problem !== null);
  }

  /** Queues a write and resolves with its outcome once both homes have answered. */
  submit<T>(write: Write<T>): JournalResult<T> {
    if (this.#isEnded) return Promise.resolve(endedRefusal());
    return new Promise((resolve) => {
      const waiting: Waiting = {
        attempt: async (database) => {
          await this.#host.file.write(write.first ?? []);
          const stored = await inTime(write.store(database));
          if (stored.ok) await this.#finish(write, { stored: stored.value, waiting });
          return () => resolve(stored);
        },
        early: write.early,
        fail: (problem) => resolve({ ok: false, error: problem }),
        inFile: false,
      };
      this.#waiting.push(waiting);
      this.#wake();
      this.#pump ??= this.#run();
    });
  }

  async #finish<T>(write: Write<T>, done: { stored: T; waiting: Waiting }): Promise<void> {
    if (!done.waiting.inFile) await this.#host.file.write(write.records(done.stored));
    await write.after?.(done.stored);
  }

  async #run(): Promise<void> {
    for (let failures = 0; this.#waiting.length > 0 && !this.#isEnded; ) {
      const [head] = this.#waiting;
      if (head === undefined) break;
      const outcome = await this.#attempt(head);
      if (typeof outcome === 'function') {
        this.#waiting.shift();
        failures = 0;
        this.#setState({ problem: null });
        outcome();
        continue;
      }
      this.#host.dropConnection();
      this.#setState({ problem: outcome });
      await this.#writeEarly();
      await this.#pause(PAUSES_MS[Math.min(failures, PAUSES_MS.length - 1)] ?? 0);
      failures += 1;
    }
    this.#pump = null;
    this.#host.onChange();
  }

  /** How to tell the outcome of the write, good or bad; or why it has none. */
  async #attempt(head: Waiting): Promise<(() => void) | JournalProblemCode> {
    const timer = setTimeout(() => this.#setState({ isLate: true }), LATE_AFTER_MS);
    try {
      const connected = await this.#host.connect();
      if (!connected.ok) return connected.error.code;
      return await head.attempt(connected.value);
    } catch (cause) {
      return nameOf(cause) === 'QuotaExceededError' ? 'database-full' : 'database-lost';
    } finally {
      clearTimeout(timer);
      this.#setState({ isLate: false });
    }
  }

  /** One home is better than none: a browser that is killed now finds the presses in the file. */
  async #writeEarly(): Promise<void> {
    for (const waiting of this.#waiting) {
      if (waiting.inFile) continue;
      const records = waiting.early();
      if (records === null) return;
      await this.#host.file.write(records);
      waiting.inFile = this.#host.file.isUp;
    }
  }

  /** A new press ends the pause: it is a reason to try at once. */
  #pause(ms: number): Promise<void> {
    return new Promise((resolve) => {
      const timer = setTimeout(resolve, ms);
      this.#wake = () => {
        clearTimeout(timer);
        resolve();
      };
    });
  }

  #setState(state: { problem?: JournalProblemCode | null; isLate?: boolean }): void {
    const before = `${this.#problem} ${this.#isLate}`;
    if (state.problem !== undefined) this.#problem = state.problem;
    if (state.isLate !== undefined) this.#isLate = state.isLate;
    if (before !== `${this.#problem} ${this.#isLate}`) this.#host.onChange();
  }

  /** Waits until nothing is queued, or until `withinMs` have passed. */
  async drain(withinMs: number): Promise<void> {
    if (this.#pump === null) return;
    let timer: ReturnType<typeof setTimeout> | undefined;
    const late = new Promise<void>((resolve) => {
      timer = setTimeout(resolve, withinMs);
    });
    await Promise.race([this.#pump, late]);
    clearTimeout(timer);
  }

  /** Refuses what is still queued and everything that comes later. */
  end(): void {
    this.#isEnded = true;
    for (const waiting of this.#waiting.splice(0)) waiting.fail(endedRefusal().error);
    this.#wake();
  }
}

function endedRefusal(): { ok: false; error: JournalProblem } {
  return refuse('not-writer', { place: 'journal', expected: 'an open writer', came: undefined });
}

async function inTime<T>(
  answer: Promise<Result<T, JournalProblem>>,
): Promise<Result<T, JournalProblem>> {
  let timer: ReturnType<typeof setTimeout> | undefined;
  const late = new Promise<never>((_resolve, reject) => {
    timer = setTimeout(
      () => reject(new Error(`no answer within ${ANSWER_WITHIN_MS} ms`)),
      ANSWER_WITHIN_MS,
    );
  });
  try {
    return await Promise.race([answer, late]);
  } finally {
    clearTimeout(timer);
  }
}
