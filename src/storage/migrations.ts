/**
 * Numbered changes of the database's layout. A step is never edited after it was released: stored
 * records of every age pass through the same steps in the same order.
 */
import type { DBSchema, IDBPDatabase, IDBPTransaction } from 'idb';
import type {
  CaseSummary,
  JournalEntry,
  SetApart,
  StoredDocument,
  Tombstone,
} from './journal-types.ts';

/** A heartbeat as stored: the last stamp at which the case was watched. */
export interface Heartbeat {
  readonly caseId: string;
  readonly stamp: JournalEntry['stamp'];
}

/** Single values that the journal needs about itself. */
type MetaKey =
  /** The highest epoch ever given to a writer. */
  | 'epoch'
  /** Epochs up to this one have been compared with the files. */
  | 'comparedThrough'
  /** Size of each file when it was last compared: `{name: bytes}`. */
  | 'files'
  /** How many cases were listed, those deleted among them, when that was last looked at. */
  | 'listed'
  /** What is known to be lost: a `Damage`. */
  | 'damage';

export interface JournalSchema extends DBSchema {
  entries: { key: [string, number]; value: JournalEntry };
  cases: { key: string; value: CaseSummary; indexes: { lastEpoch: number } };
  heartbeats: { key: string; value: Heartbeat };
  documents: { key: [string, string]; value: StoredDocument; indexes: { epoch: number } };
  tombstones: { key: string; value: Tombstone; indexes: { epoch: number } };
  apart: { key: string; value: SetApart };
  meta: { key: MetaKey; value: unknown };
}

export type JournalDatabase = IDBPDatabase<JournalSchema>;
type StoreName = 'entries' | 'cases' | 'heartbeats' | 'documents' | 'tombstones' | 'apart' | 'meta';
type UpgradeTransaction = IDBPTransaction<JournalSchema, StoreName[], 'versionchange'>;

interface Migration {
  readonly to: number;
  readonly why: string;
  readonly run: (database: JournalDatabase, transaction: UpgradeTransaction) => void;
}

export const MIGRATIONS: readonly Migration[] = [
  {
    to: 1,
    why: 'the first layout',
    run: (database) => {
      database.createObjectStore('entries', { keyPath: ['caseId', 'seq'] });
      const cases = database.createObjectStore('cases', { keyPath: 'caseId' });
      cases.createIndex('lastEpoch', 'lastEpoch');
      database.createObjectStore('heartbeats', { keyPath: 'caseId' });
      const documents = database.createObjectStore('documents', { keyPath: ['kind', 'id'] });
      documents.createIndex('epoch', 'epoch');
      const tombstones = database.createObjectStore('tombstones', { keyPath: 'caseId' });
      tombstones.createIndex('epoch', 'epoch');
      database.createObjectStore('apart');
      database.createObjectStore('meta');
    },
  },
];

/** The layout that this program reads and writes. */
export const DATABASE_VERSION = MIGRATIONS.length;

/** Runs every step above `from`, in order, inside the upgrade's transaction. */
export function migrate(
  database: JournalDatabase,
  { from, transaction }: { readonly from: number; readonly transaction: UpgradeTransaction },
): void {
  for (const step of MIGRATIONS) {
    if (step.to > from) step.run(database, transaction);
  }
}
