/**
 * Numbers what is sent and not kept. They rise over a restart of the app too, and where the clock is set back
 * meanwhile: a number that is not below any that was given is kept, some way ahead, so that not every one is
 * written.
 */
import { keepOne, readOne, type SharingDatabase } from './sharing-database.ts';

const NAME = 'live-count';

/** How far ahead is kept: a minute of the clock. A design choice of this project. */
const AHEAD = 60_000;

export class LiveCount {
  readonly #database: SharingDatabase;
  readonly #nowWallMs: () => number;
  #last = 0;
  #kept = 0;

  constructor(database: SharingDatabase, nowWallMs: () => number) {
    this.#database = database;
    this.#nowWallMs = nowWallMs;
  }

  /** Goes on from what was kept. Rejects where the browser has dropped the database. */
  async read(): Promise<void> {
    const kept = await readOne(this.#database, NAME);
    if (typeof kept !== 'number' || !Number.isSafeInteger(kept)) return;
    this.#last = kept;
    this.#kept = kept;
  }

  /** The wall clock in ms, or one more than the last. */
  next(): number {
    this.#last = Math.max(Math.round(this.#nowWallMs()), this.#last + 1);
    if (this.#last >= this.#kept) {
      this.#kept = this.#last + AHEAD;
      // Not kept this time: the next number that is above tries again.
      this.#database.change([keepOne(NAME, this.#kept)]).catch(() => {
        this.#kept = 0;
      });
    }
    return this.#last;
  }
}
