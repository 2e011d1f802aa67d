/** Something that is done again and again, never twice at one time. */

export interface Later {
  /** Calls `run` once after so many ms. Returns the way to call it off. */
  later(ms: number, run: () => void): () => void;
}

export class Turns {
  readonly #run: () => Promise<void>;
  readonly #timers: Later;
  #goes: Promise<void> | null = null;
  #again = false;
  #isStopped = false;
  #callOff: (() => void) | null = null;

  /** @param run does one turn. What it throws is its own to tell: it is dropped here. */
  constructor(timers: Later, run: () => Promise<void>) {
    this.#timers = timers;
    this.#run = run;
  }

  /** A turn at once; one more after the one that goes on now. */
  now(): void {
    if (this.#isStopped) return;
    this.#callOff?.();
    this.#callOff = null;
    this.#again = true;
    this.#goes ??= this.#go().finally(() => {
      this.#goes = null;
      // Asked for between its last look and its end.
      if (this.#again) this.now();
    });
  }

  /** A turn after so many ms, unless one is made before. */
  in(ms: number): void {
    if (this.#isStopped) return;
    this.#callOff?.();
    this.#callOff = this.#timers.later(ms, () => this.now());
  }

  async #go(): Promise<void> {
    while (this.#again && !this.#isStopped) {
      this.#again = false;
      await this.#run().catch(() => undefined);
    }
  }

  /** Resolves when the turn that goes on now is over; no other begins. */
  async stop(): Promise<void> {
    this.#isStopped = true;
    this.#callOff?.();
    await this.#goes;
  }
}

/** First wait after a failure, and the longest, ms. Design choices of this project. */
const WAIT_FIRST_MS = 500;
const WAIT_MAX_MS = 30_000;

/** How long to wait after so many failures in a row, ms: twice as long each time, never two tablets alike. */
export const waitAfter = (failures: number, random: () => number): number =>
  Math.min(WAIT_MAX_MS, WAIT_FIRST_MS * 2 ** (failures - 1)) * (0.5 + random() / 2);
