/**
 * The connection to the database, for reading or, while the writer lock is held, for writing. A lost
 * connection never works again: it is dropped, and the next use opens a new one. Opening to write
 * starts the log afresh, takes an epoch and compares the two homes before anything is written.
 */

import { ok } from '../base/result.ts';
import { nameOf, openDatabase, rotateLog } from './database-open.ts';
import { raiseEpoch, restoreEpoch } from './database-transactions.ts';
import type { FileKeeper } from './file-keeper.ts';
import type { HeadsKeeper } from './heads-keeper.ts';
import { refuse } from './journal-problem.ts';
import type { JournalResult, ReconcileReport } from './journal-types.ts';
import type { JournalDatabase } from './migrations.ts';
import { parts } from './parts.ts';
import { type SecondHome, SecondHomeLost } from './second-home.ts';

interface ConnectionParts {
  readonly name: string;
  readonly file: FileKeeper;
  readonly heads: HeadsKeeper;
  /** Called when the database went away or came back. */
  readonly onChange: () => void;
}

const NOTHING_DONE: Omit<ReconcileReport, 'databaseLost'> = {
  rebuilt: null,
  entries: 0,
  conflicts: 0,
  unreadable: 0,
  mended: 0,
};

/** How the database was found. */
interface Made {
  readonly databaseLost: boolean;
  readonly isNew: boolean;
}

export class Connection {
  readonly #parts: ConnectionParts;
  #database: JournalDatabase | null = null;
  #opening: JournalResult<JournalDatabase | null> | null = null;
  #isWriter = false;
  #isClosed = false;
  /** The writer's epoch; null until the first opening to write has succeeded. */
  #epoch: number | null = null;
  #report: ReconcileReport = { ...NOTHING_DONE, databaseLost: false };

  constructor(parts: ConnectionParts) {
    this.#parts = parts;
  }

  get epoch(): number | null {
    return this.#epoch;
  }

  get report(): ReconcileReport {
    return this.#report;
  }

  get isOpen(): boolean {
    return this.#database !== null;
  }

  /** Changes between reading and writing; the next use opens anew and takes a new epoch. */
  async become(role: 'reader' | 'writer'): Promise<void> {
    await this.#opening;
    this.drop();
    this.#isWriter = role === 'writer';
    this.#epoch = null;
  }

  /** The open database, or null when there is none to read. */
  use(): JournalResult<JournalDatabase | null> {
    if (this.#isClosed) {
      const closed = { place: 'journal', expected: 'an open journal', came: 'a closed one' };
      return Promise.resolve(refuse('closed', closed));
    }
    if (this.#database !== null) return Promise.resolve(ok(this.#database));
    this.#opening ??= this.#open().finally(() => {
      this.#opening = null;
    });
    return this.#opening;
  }

  drop(): void {
    this.#database?.close();
    this.#database = null;
    this.#parts.onChange();
  }

  close(): void {
    this.#isClosed = true;
    this.drop();
  }

  async #open(): JournalResult<JournalDatabase | null> {
    if (this.#isWriter) await rotateLog();
    const opened = await openDatabase({
      name: this.#parts.name,
      mayUpgrade: this.#isWriter,
      onLost: () => this.drop(),
    });
    if (!opened.ok || opened.value === null) return opened.ok ? ok(null) : opened;
    const { database, dataLost, created } = opened.value;
    try {
      if (this.#isWriter) {
        await this.#prepare(database, { databaseLost: dataLost, isNew: created });
      }
    } catch (cause) {
      database.close();
      return refuse('database-lost', {
        place: 'journal.open',
        expected: 'a database that answers',
        came: nameOf(cause),
      });
    }
    this.#database = database;
    this.#parts.onChange();
    return ok(database);
  }

  async #prepare(database: JournalDatabase, made: Made): Promise<void> {
    const { file } = this.#parts;
    if (this.#epoch !== null) {
      // The writer goes on with its epoch. Only a database that was made anew is behind it.
      if (await restoreEpoch(database, this.#epoch)) {
        await this.#compare(database, { ...made, isFirst: false });
      }
      return;
    }
    const { home } = file;
    const newest = home === null ? 0 : await newestEpoch(home);
    this.#epoch = await raiseEpoch(database, newest ?? 0);
    file.begin({ epoch: this.#epoch, part: 0 }, newest !== null);
    await this.#compare(database, { ...made, isFirst: true });
  }

  async #compare(
    database: JournalDatabase,
    { databaseLost, ...made }: Made & { readonly isFirst: boolean },
  ): Promise<void> {
    const { file, heads } = this.#parts;
    this.#report = { ...NOTHING_DONE, databaseLost };
    // Read after the first scripts, by the window that writes alone.
    const code = await parts.compareHomes().catch(() => null);
    if (code === null) {
      // Nobody knows what the file lacks: better one copy that is told than two that differ.
      if (file.place !== null) file.begin(file.place, false);
      return;
    }
    const epoch = this.#epoch ?? 1;
    const report = await code.compareHomes({ database, file, heads, epoch, ...made });
    this.#report = { ...(report ?? NOTHING_DONE), databaseLost };
  }
}

/** The highest epoch that left a file; null when the files do not answer. */
async function newestEpoch(home: SecondHome): Promise<number | null> {
  try {
    return Math.max(0, ...(await home.list()).map((file) => file.epoch));
  } catch (cause) {
    if (cause instanceof SecondHomeLost) return null;
    throw cause;
  }
}
