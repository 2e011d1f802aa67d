/**
 * Compares the two homes of the journal and gives each what it lacks. Files that have not changed
 * since the last comparison are not read again, unless one of them is missing or shorter than it
 * was, or the database is new: then everything is compared.
 */
import { present } from '../base/assert.ts';
import { type Compared, readCompared, visitRecordsFrom } from './database-reads.ts';
import {
  adoptDocument,
  adoptEntries,
  adoptTombstone,
  setApart,
  strictly,
} from './database-transactions.ts';
import { encodeRecords, type FileRecord, readLines, recordSum } from './file-lines.ts';
import type { JournalEntry, ReconcileReport, SetApart } from './journal-types.ts';
import type { JournalDatabase } from './migrations.ts';
import type { SecondHome, SegmentFile } from './second-home.ts';

interface Homes {
  readonly database: JournalDatabase;
  readonly home: SecondHome;
  /** Where the running writer puts its lines. */
  readonly place: { readonly epoch: number; readonly part: number };
}

interface Tally {
  toDatabase: number;
  toFile: number;
  conflicts: number;
  unreadable: number;
}

/** Lines written at once when the file is rebuilt. */
const RECORDS_A_WRITE = 500;

/** Makes both homes hold the same. Rejects when either of them fails on the way. */
export async function reconcile(homes: Homes): Promise<Omit<ReconcileReport, 'databaseLost'>> {
  const compared = await readCompared(homes.database);
  const files = await homes.home.list();
  const all = compared.through === 0 || files.length === 0 || hasShrunk(files, compared);
  const tally: Tally = { toDatabase: 0, toFile: 0, conflicts: 0, unreadable: 0 };
  const changed = files.filter(
    ({ name, epoch, bytes }) => all || epoch > compared.through || compared.files[name] !== bytes,
  );
  const inFile = await bringToDatabase(homes, { files: changed, tally });
  await bringToFile(homes, { from: all ? 0 : compared.through + 1, inFile, tally });
  await writeCompared(homes);
  return {
    rebuilt: rebuiltOf(tally),
    entries: tally.toDatabase + tally.toFile,
    conflicts: tally.conflicts,
    unreadable: tally.unreadable,
  };
}

function hasShrunk(files: readonly SegmentFile[], { files: sizes }: Compared): boolean {
  const now = new Map(files.map((file) => [file.name, file.bytes]));
  return Object.entries(sizes).some(([name, bytes]) => (now.get(name) ?? 0) < bytes);
}

function rebuiltOf({ toDatabase, toFile }: Tally): ReconcileReport['rebuilt'] {
  if (toDatabase > 0 && toFile > 0) return 'both';
  if (toDatabase > 0) return 'database';
  return toFile > 0 ? 'file' : null;
}

/** Adopts what the files hold, and returns the sums of everything that stands in them. */
async function bringToDatabase(
  { database, home }: Homes,
  { files, tally }: { files: readonly SegmentFile[]; tally: Tally },
): Promise<ReadonlySet<string>> {
  const sums = new Set<string>();
  const loose: JournalEntry[] = [];
  for (const { name } of files) {
    const { records, unreadable } = readLines(await home.read(name));
    for (const record of records) sums.add(recordSum(record));
    tally.unreadable += unreadable.length;
    await setApart(
      database,
      unreadable.map(({ reason, text }) => apartFromFile({ reason, content: text })),
    );
    for (const group of inGroups(records)) {
      loose.push(...(await adoptGroup(database, { group, tally })));
    }
  }
  await adoptLoose(database, { loose, tally });
  return sums;
}

const apartFromFile = (found: { reason: string; content: unknown }): SetApart => ({
  from: 'file',
  caseId: null,
  seq: null,
  ...found,
});

/** Neighbouring entries of one case belong together; everything else stands alone. */
function inGroups(records: readonly FileRecord[]): readonly (readonly FileRecord[])[] {
  const groups: FileRecord[][] = [];
  let last: FileRecord | null = null;
  for (const record of records) {
    const joins =
      last?.record === 'entry' &&
      record.record === 'entry' &&
      last.body.caseId === record.body.caseId;
    if (joins) groups.at(-1)?.push(record);
    else groups.push([record]);
    last = record;
  }
  return groups;
}

async function adoptGroup(
  database: JournalDatabase,
  { group, tally }: { group: readonly FileRecord[]; tally: Tally },
): Promise<readonly JournalEntry[]> {
  const first = present(group[0], 'the first record of a group');
  if (first.record === 'document') {
    tally.toDatabase += await adoptDocument(database, first.body);
    return [];
  }
  if (first.record === 'tombstone') {
    tally.toDatabase += await adoptTombstone(database, first.body);
    return [];
  }
  const entries = group.flatMap((record) => (record.record === 'entry' ? [record.body] : []));
  const adoption = await adoptEntries(database, entries);
  tally.toDatabase += adoption.added;
  tally.conflicts += adoption.conflicts;
  return adoption.loose;
}

/** Copies can stand in a later file than what follows them: a second round puts them in order. */
async function adoptLoose(
  database: JournalDatabase,
  { loose, tally }: { loose: readonly JournalEntry[]; tally: Tally },
): Promise<void> {
  for (const caseId of new Set(loose.map((entry) => entry.caseId))) {
    const inOrder = loose
      .filter((entry) => entry.caseId === caseId)
      .toSorted((a, b) => a.seq - b.seq);
    const adoption = await adoptEntries(database, inOrder);
    tally.toDatabase += adoption.added;
    tally.conflicts += adoption.conflicts + adoption.loose.length;
    await setApart(
      database,
      adoption.loose.map((content) => ({
        ...apartFromFile({ reason: 'unlinked', content }),
        caseId,
        seq: content.seq,
      })),
    );
  }
}

async function bringToFile(
  { database, home, place }: Homes,
  { from, inFile, tally }: { from: number; inFile: ReadonlySet<string>; tally: Tally },
): Promise<void> {
  // Each write is flushed, so short cases share one.
  let waiting: FileRecord[] = [];
  const write = async (): Promise<void> => {
    const part = waiting.slice(0, RECORDS_A_WRITE);
    waiting = waiting.slice(RECORDS_A_WRITE);
    await home.append({ ...place, bytes: encodeRecords(part) });
    tally.toFile += part.length;
  };
  await visitRecordsFrom(database, { from, to: place.epoch }, async (records) => {
    waiting.push(...records.filter((record) => !inFile.has(recordSum(record))));
    while (waiting.length >= RECORDS_A_WRITE) await write();
  });
  if (waiting.length > 0) await write();
}

/** Notes how far the comparison went. Everything of the running epoch is compared next time. */
async function writeCompared({ database, home, place }: Homes): Promise<void> {
  const files = await home.list();
  const sizes = Object.fromEntries(files.map(({ name, bytes }) => [name, bytes]));
  await strictly(database, async (writing) => {
    const meta = writing.objectStore('meta');
    await meta.put(sizes, 'files');
    await meta.put(place.epoch - 1, 'comparedThrough');
  });
}

/** Takes out what was set apart of one deleted case: deleted for good means these copies too. */
export function forgetApart(database: JournalDatabase, caseId: string): Promise<void> {
  return strictly(database, async (writing) => {
    const store = writing.objectStore('apart');
    for (const key of await store.getAllKeys()) {
      const found = await store.get(key);
      if (found?.caseId === caseId) await store.delete(key);
    }
  });
}

/**
 * Takes the lines of one deleted case out of the files: every other line of a file that holds some
 * is copied to `place` before that file is removed, so that a crash on the way loses nothing.
 */
export async function purgeCase(homes: Homes, caseId: string): Promise<void> {
  const { home, place } = homes;
  for (const file of await home.list()) {
    if (file.epoch === place.epoch && file.part === place.part) continue;
    const { records } = readLines(await home.read(file.name));
    const kept = records.filter(
      (record) => record.record !== 'entry' || record.body.caseId !== caseId,
    );
    if (kept.length === records.length) continue;
    if (kept.length > 0) await home.append({ ...place, bytes: encodeRecords(kept) });
    await home.remove(file.name);
  }
  await writeCompared(homes);
}
