/** Opens the journal's database, and starts its log afresh before anything is written to it. */
import { deleteDB, openDB } from 'idb';
import { ok } from '../base/result.ts';
import { giveWay } from './give-way.ts';
import { refuse } from './journal-problem.ts';
import type { JournalResult } from './journal-types.ts';
import {
  DATABASE_VERSION,
  type JournalDatabase,
  type JournalSchema,
  migrate,
} from './migrations.ts';

const ROTATION_DATABASE = 'lutewatch-log-rotation';
/** Enough to make the engine close its current log file; measured in Chromium. */
const ROTATION_BYTES = 1024 * 1024;
const ROTATE_WITHIN_MS = 3000;
/** An open that waits longer than this waits for another tab. */
const OPEN_WITHIN_MS = 8000;

interface OpenedDatabase {
  readonly database: JournalDatabase;
  /** It did not exist before. */
  readonly created: boolean;
  /** The browser says that it threw an earlier one away. */
  readonly dataLost: boolean;
}

interface OpenOptions {
  readonly name: string;
  /** True only while the writer lock is held. */
  readonly mayUpgrade: boolean;
  /** The connection is of no more use; its owner must open a new one. */
  readonly onLost: () => void;
}

/**
 * A killed browser can leave half a record at the end of the database's log; written on, that log is
 * refused at a later start and the browser deletes everything. Writing and deleting a scratch
 * database moves the engine to a new log first. It is a precaution: failing, or taking too long,
 * gives false and stops nothing.
 */
export async function rotateLog(): Promise<boolean> {
  return (
    (await inTime(
      rotate().catch(() => false),
      ROTATE_WITHIN_MS,
    )) ?? false
  );
}

async function rotate(): Promise<boolean> {
  const scratch = await openDB(ROTATION_DATABASE, 1, {
    upgrade: (database) => void database.createObjectStore('scratch'),
    blocking: giveWay,
  });
  try {
    const writing = scratch.transaction('scratch', 'readwrite', { durability: 'strict' });
    await Promise.all([writing.store.put(new Uint8Array(ROTATION_BYTES), 0), writing.done]);
  } finally {
    // Left open it would block its own deletion at every later start.
    scratch.close();
  }
  await deleteDB(ROTATION_DATABASE);
  return true;
}

/** The answer, or undefined when it does not come within `withinMs`. */
async function inTime<T>(answer: Promise<T>, withinMs: number): Promise<T | undefined> {
  let timer: ReturnType<typeof setTimeout> | undefined;
  const late = new Promise<undefined>((resolve) => {
    timer = setTimeout(() => resolve(undefined), withinMs);
  });
  try {
    return await Promise.race([answer, late]);
  } finally {
    clearTimeout(timer);
  }
}

/**
 * Opens the database; `null` when a reader finds none. Fails with `newer-format`, `older-format`
 * (only a writer may migrate), `database-blocked` and `database-lost`.
 */
export async function openDatabase(options: OpenOptions): JournalResult<OpenedDatabase | null> {
  const opening = options.mayUpgrade ? openToWrite(options) : openToRead(options);
  try {
    const opened = await inTime(opening, OPEN_WITHIN_MS);
    if (opened !== undefined) return opened;
    opening.then(closeLate, () => undefined);
    return refuse('database-blocked', {
      place: 'journal.open',
      expected: `the database within ${OPEN_WITHIN_MS} ms`,
      came: 'nothing',
    });
  } catch (cause) {
    return refuse(nameOf(cause) === 'VersionError' ? 'newer-format' : 'database-lost', {
      place: 'journal.open',
      expected: `a database of layout ${DATABASE_VERSION}`,
      came: nameOf(cause),
    });
  }
}

function closeLate(opened: Awaited<JournalResult<OpenedDatabase | null>>): void {
  if (opened.ok) opened.value?.database.close();
}

async function openToWrite({ name, onLost }: OpenOptions): JournalResult<OpenedDatabase> {
  let created = false;
  let dataLost = false;
  const database = await openDB<JournalSchema>(name, DATABASE_VERSION, {
    upgrade: (upgrading, from, _to, transaction, event) => {
      created = from === 0;
      // Chromium's own word for a database that it found damaged and deleted.
      dataLost = 'dataLoss' in event && event.dataLoss === 'total';
      migrate(upgrading, { from, transaction });
    },
    blocking: giveWayWith(onLost),
    terminated: onLost,
  });
  return ok({ database, created, dataLost });
}

async function openToRead({ name, onLost }: OpenOptions): JournalResult<OpenedDatabase | null> {
  let missing = false;
  let database: JournalDatabase;
  try {
    database = await openDB<JournalSchema>(name, undefined, {
      upgrade: (_database, _from, _to, transaction) => {
        // Reading must not leave an empty database behind that a writer would take for a lost one.
        missing = true;
        transaction.done.catch(() => undefined);
        transaction.abort();
      },
      blocking: giveWayWith(onLost),
      terminated: onLost,
    });
  } catch (cause) {
    if (missing) return ok(null);
    throw cause;
  }
  if (database.version === DATABASE_VERSION) {
    return ok({ database, created: false, dataLost: false });
  }
  const came = database.version;
  database.close();
  return refuse(came > DATABASE_VERSION ? 'newer-format' : 'older-format', {
    place: 'journal.open',
    expected: `a database of layout ${DATABASE_VERSION}`,
    came,
  });
}

/** Gives way, and tells the owner of the connection. */
const giveWayWith =
  (onLost: () => void): typeof giveWay =>
  (...blocked) => {
    giveWay(...blocked);
    onLost();
  };

/** The name of whatever was thrown: `QuotaExceededError`, `InvalidStateError`. */
export function nameOf(cause: unknown): string {
  return cause instanceof Error || cause instanceof DOMException ? cause.name : String(cause);
}
