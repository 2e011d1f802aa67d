/** What is read from the database. Entries are checked on the way out, never trusted. */

import { fieldsOf } from '../base/json.ts';
import { readingOf } from './case-reading.ts';
import { wholeCase } from './database-transactions.ts';
import type { FileRecord } from './file-lines.ts';
import type { CaseReading, StoredDocument } from './journal-types.ts';
import type { JournalDatabase } from './migrations.ts';
import { nativeHashes } from './native-hash.ts';

/** All entries of a case, verified. A case that is not stored reads as empty. */
export async function readCase(database: JournalDatabase, caseId: string): Promise<CaseReading> {
  const reading = database.transaction(['entries', 'cases'], 'readonly');
  const [stored, summary] = await Promise.all([
    reading.objectStore('entries').getAll(wholeCase(caseId)),
    reading.objectStore('cases').get(caseId),
  ]);
  const hashes = await nativeHashes(stored);
  return readingOf(caseId, { stored, summary: summary ?? null, hashes });
}

/** Documents of one kind that are not deleted, in the order of their ids. */
export async function listDocuments(
  database: JournalDatabase,
  kind: string,
): Promise<readonly StoredDocument[]> {
  const all = await database.getAll('documents', IDBKeyRange.bound([kind], [kind, []]));
  return all.filter((document) => document.value !== null);
}

/**
 * Everything that was written in the epochs `from` to `to`, as it would stand in the file, case by
 * case so that a device full of records does not have to fit into memory. Entries from a backup
 * keep the epochs of the device they come from, which can be higher than any of this one.
 */
export async function visitRecordsFrom(
  database: JournalDatabase,
  { from, to }: { readonly from: number; readonly to: number },
  visit: (records: readonly FileRecord[]) => Promise<void>,
): Promise<void> {
  const since = IDBKeyRange.lowerBound(from);
  for (const caseId of await database.getAllKeysFromIndex('cases', 'lastEpoch', since)) {
    const entries = await database.getAll('entries', wholeCase(caseId));
    await visit(
      entries
        .filter((entry) => entry.epoch >= from && entry.epoch <= to)
        .map((body) => ({ record: 'entry' as const, body })),
    );
  }
  const documents = await database.getAllFromIndex('documents', 'epoch', since);
  await visit(documents.map((body) => ({ record: 'document' as const, body })));
  const tombstones = await database.getAllFromIndex('tombstones', 'epoch', since);
  await visit(tombstones.map((body) => ({ record: 'tombstone' as const, body })));
}

/** How far the files have been compared, and how long each was then. */
export interface Compared {
  readonly through: number;
  readonly files: Readonly<Record<string, number>>;
}

/** Reads what {@link writeCompared} left; nothing counts as compared in a new database. */
export async function readCompared(database: JournalDatabase): Promise<Compared> {
  const through = await database.get('meta', 'comparedThrough');
  const files = fieldsOf(await database.get('meta', 'files'));
  const sizes = Object.entries(files).flatMap(([name, bytes]) =>
    typeof bytes === 'number' ? [[name, bytes] as const] : [],
  );
  return { through: typeof through === 'number' ? through : 0, files: Object.fromEntries(sizes) };
}
