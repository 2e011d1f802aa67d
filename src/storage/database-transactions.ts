/**
 * Every change of the stored journal, each one strict transaction that also checks the writer's
 * epoch: what a replaced writer still sends arrives after its successor's epoch and is refused here,
 * where no other check could come too late. A lost connection shows as a rejection.
 */
import type { IDBPTransaction } from 'idb';
import { err, ok } from '../base/result.ts';
import type { Stamp } from '../engine/types.ts';
import { canonicalText } from '../protocol/canonical-text.ts';
import type { FileRecord } from './file-lines.ts';
import { refuse } from './journal-problem.ts';
import type { JournalProblem, JournalResult, StoredDocument, Tombstone } from './journal-types.ts';
import type { JournalDatabase, JournalSchema } from './migrations.ts';

const WRITTEN = ['entries', 'cases', 'documents', 'tombstones', 'apart', 'meta'] as const;
type Written = (typeof WRITTEN)[number][];
export type Writing = IDBPTransaction<JournalSchema, Written, 'readwrite'>;

/** Runs `work` in one strict transaction and resolves once it is down. */
export async function strictly<T>(
  database: JournalDatabase,
  work: (writing: Writing) => Promise<T>,
): Promise<T> {
  const writing = database.transaction([...WRITTEN], 'readwrite', { durability: 'strict' });
  // The rejection is told through `await writing.done` or by the request that failed.
  writing.done.catch(() => undefined);
  try {
    const value = await work(writing);
    await writing.done;
    return value;
  } catch (cause) {
    abort(writing);
    throw cause;
  }
}

function abort(writing: Writing): void {
  try {
    writing.abort();
  } catch {
    // It is over already; the first cause is the one to tell.
  }
}

const epochOf = (stored: unknown): number => (typeof stored === 'number' ? stored : 0);

/** The refusal of a writer that was replaced, or null. */
export async function fence(writing: Writing, epoch: number): Promise<JournalProblem | null> {
  const current = epochOf(await writing.objectStore('meta').get('epoch'));
  if (current === epoch) return null;
  return refuse('stale-epoch', {
    place: 'journal.epoch',
    expected: `the current writer's epoch ${current}`,
    came: epoch,
  }).error;
}

/** A higher epoch than any before, in this database and in the files. */
export function raiseEpoch(database: JournalDatabase, above: number): Promise<number> {
  return strictly(database, async (writing) => {
    const meta = writing.objectStore('meta');
    const epoch = Math.max(epochOf(await meta.get('epoch')), above) + 1;
    await meta.put(epoch, 'epoch');
    return epoch;
  });
}

/** Gives a database that was made anew the epoch of the writer that still holds the lock. */
export function restoreEpoch(database: JournalDatabase, epoch: number): Promise<boolean> {
  return strictly(database, async (writing) => {
    const meta = writing.objectStore('meta');
    const wasBehind = epochOf(await meta.get('epoch')) < epoch;
    if (wasBehind) await meta.put(epoch, 'epoch');
    return wasBehind;
  });
}

/** The refusal of a case that was deleted, or null. */
export async function refuseDeleted(
  writing: Writing,
  caseId: string,
): Promise<JournalProblem | null> {
  const gone = await writing.objectStore('tombstones').get(caseId);
  if (gone === undefined) return null;
  return refuse('case-deleted', {
    place: `journal.cases.${caseId}`,
    expected: 'a case that is kept',
    came: gone.reason,
  }).error;
}

/** Stores a document, or its deletion when `value` is null, as the next version. */
export function putDocument(
  database: JournalDatabase,
  document: Omit<StoredDocument, 'version'>,
): JournalResult<StoredDocument> {
  return strictly(database, async (writing) => {
    const refusal = await fence(writing, document.epoch);
    if (refusal !== null) return err(refusal);
    const store = writing.objectStore('documents');
    const before = await store.get([document.kind, document.id]);
    const stored = { ...document, version: (before?.version ?? 0) + 1 };
    await store.put(stored);
    return ok(stored);
  });
}

/** Takes a document from the other home when it is newer than what is stored. */
export function adoptDocument(
  database: JournalDatabase,
  document: StoredDocument,
): Promise<number> {
  return strictly(database, async (writing) => {
    const store = writing.objectStore('documents');
    const before = await store.get([document.kind, document.id]);
    if (before !== undefined && !isNewer(document, before)) return 0;
    await store.put(document);
    return 1;
  });
}

/** The same for a backup; null when what is stored is as new. */
export function importDocument(
  database: JournalDatabase,
  document: StoredDocument,
): JournalResult<StoredDocument | null> {
  return strictly(database, async (writing) => {
    const refusal = await fence(writing, document.epoch);
    if (refusal !== null) return err(refusal);
    const store = writing.objectStore('documents');
    const before = await store.get([document.kind, document.id]);
    if (before !== undefined && before.version >= document.version) {
      // The answer to a first try may have been lost with the connection.
      return ok(canonicalText(before) === canonicalText(document) ? document : null);
    }
    await store.put(document);
    return ok(document);
  });
}

function isNewer(document: StoredDocument, than: StoredDocument): boolean {
  return document.version === than.version
    ? document.epoch > than.epoch
    : document.version > than.version;
}

/** A deleted case: its mark, and the documents that it left. */
export interface Buried {
  readonly tombstone: Tombstone;
  readonly left: readonly StoredDocument[];
}

export const buriedRecords = ({ tombstone, left }: Buried): readonly FileRecord[] => [
  { record: 'tombstone', body: tombstone },
  ...left.map((body) => ({ record: 'document', body }) as const),
];

/** Deletes a case and leaves a tombstone, and documents in its place. Deleting it again gives the same. */
export function buryCase(
  database: JournalDatabase,
  o: {
    caseId: string;
    epoch: number;
    stamp: Stamp;
    by: string | null;
    reason: string;
    leaves?: readonly Pick<StoredDocument, 'kind' | 'id' | 'value'>[];
  },
): JournalResult<Buried> {
  return strictly(database, async (writing) => {
    const { leaves = [], ...deletion } = o;
    const { caseId, epoch } = deletion;
    const refusal = await fence(writing, epoch);
    if (refusal !== null) return err(refusal);
    const documents = writing.objectStore('documents');
    const buried = await writing.objectStore('tombstones').get(caseId);
    if (buried !== undefined) {
      // The answer to a first try may have been lost with the connection.
      const there = await Promise.all(leaves.map(({ kind, id }) => documents.get([kind, id])));
      return ok({ tombstone: buried, left: there.filter((one) => one !== undefined) });
    }
    const summary = await writing.objectStore('cases').get(caseId);
    if (summary === undefined) {
      return refuse('no-such-case', {
        place: `journal.cases.${caseId}`,
        expected: 'a stored case',
        came: undefined,
      });
    }
    const tombstone = { ...deletion, entries: summary.entries, head: summary.head };
    const left = leaves.map((document) => ({ ...document, epoch, version: 1 }));
    await Promise.all([
      putTombstone(writing, tombstone),
      ...left.map((document) => documents.put(document)),
    ]);
    return ok({ tombstone, left });
  });
}

/** Takes a tombstone from the other home. */
export function adoptTombstone(database: JournalDatabase, tombstone: Tombstone): Promise<number> {
  return strictly(database, async (writing) => {
    const buried = await writing.objectStore('tombstones').get(tombstone.caseId);
    if (buried !== undefined) return 0;
    await putTombstone(writing, tombstone);
    return 1;
  });
}

/** The same for a backup; null when the case is kept here, or was deleted here before. */
export function importTombstone(
  database: JournalDatabase,
  tombstone: Tombstone,
): JournalResult<Tombstone | null> {
  return strictly(database, async (writing) => {
    const { caseId, epoch } = tombstone;
    const refusal = await fence(writing, epoch);
    if (refusal !== null) return err(refusal);
    const [kept, buried] = await Promise.all([
      writing.objectStore('cases').get(caseId),
      writing.objectStore('tombstones').get(caseId),
    ]);
    if (kept !== undefined) return ok(null);
    if (buried !== undefined) {
      return ok(canonicalText(buried) === canonicalText(tombstone) ? tombstone : null);
    }
    await putTombstone(writing, tombstone);
    return ok(tombstone);
  });
}

async function putTombstone(writing: Writing, tombstone: Tombstone): Promise<void> {
  const { caseId } = tombstone;
  await Promise.all([
    writing.objectStore('entries').delete(wholeCase(caseId)),
    writing.objectStore('cases').delete(caseId),
    writing.objectStore('tombstones').put(tombstone),
  ]);
}

/** Every entry key of one case: an array sorts after any number. */
export function wholeCase(caseId: string): IDBKeyRange {
  return IDBKeyRange.bound([caseId], [caseId, []]);
}
