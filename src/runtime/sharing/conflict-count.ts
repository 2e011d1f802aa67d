/** How much two tablets tell differently, counted again a moment after something of it changed. */
import type { Journal } from '../../storage/journal-types.ts';
import type { TimerHost } from '../device/timer-host.ts';
import { factDocument } from '../facts/fact.ts';
import { readConflicts } from './read-conflicts.ts';

/** What comes in a row is counted once, ms. */
const COUNTED_AFTER_MS = 2000;
/** While a case runs nothing is counted; looked again after so long, ms. */
const BUSY_AGAIN_MS = 15_000;

const COUNTED: ReadonlySet<string> = new Set(
  (
    [
      'prepared-case',
      'material',
      'sheet',
      'protocol',
      'lead-log',
      'person',
      'follow-up',
      'outcome-review',
    ] as const
  ).map(factDocument),
);

interface CountParts {
  readonly journal: Journal;
  readonly timers: Pick<TimerHost, 'after'>;
  /** Whether people are at the chair: every fact of the clinic is read for a count. */
  readonly isBusy: () => boolean;
  readonly onCount: () => void;
}

export class ConflictCount {
  readonly #parts: CountParts;
  #count = 0;
  #callOff: (() => void) | null = null;
  #isStopped = false;

  constructor(parts: CountParts) {
    this.#parts = parts;
  }

  get count(): number {
    return this.#count;
  }

  /** @param kinds of the documents that changed. */
  heard(kinds: Iterable<string>): void {
    if ([...kinds].some((kind) => COUNTED.has(kind))) this.soon();
  }

  soon(afterMs = COUNTED_AFTER_MS): void {
    if (this.#isStopped) return;
    this.#callOff ??= this.#parts.timers.after(afterMs, () => {
      this.#callOff = null;
      void this.#look();
    });
  }

  async #look(): Promise<void> {
    const { isBusy, journal, onCount } = this.#parts;
    if (isBusy()) return this.soon(BUSY_AGAIN_MS);
    const read = await readConflicts(journal);
    if (!read.ok || this.#isStopped || read.value.length === this.#count) return;
    this.#count = read.value.length;
    onCount();
  }

  stop(): void {
    this.#isStopped = true;
    this.#callOff?.();
  }
}
