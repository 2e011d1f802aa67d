/**
 * Compares the two homes of the journal and gives each what it lacks. Files that have not changed
 * since the last comparison are not read again, unless one of them is missing or shorter than it
 * was, or the database is new: then everything is compared.
 */
import { present } from '../base/assert.ts';
import { adoptEntries, setApart } from './database-entries.ts';
import { type Compared, readCompared, visitRecordsFrom } from './database-reads.ts';
import { adoptDocument, adoptTombstone, strictly } from './database-transactions.ts';
import { encodeRecords, type FileRecord, readLines, recordSum } from './file-lines.ts';
import { holdsAlone } from './hash-chain.ts';
import type { Heads } from './heads.ts';
import type { CaseDamage, ReconcileReport, SetApart } from './journal-types.ts';
import { mendSuspects } from './mend-suspects.ts';
import type { JournalDatabase } from './migrations.ts';
import type { SecondHome, SegmentFile } from './second-home.ts';
import { findSuspects, lacksCases } from './suspects.ts';

export interface Homes {
  readonly database: JournalDatabase;
  readonly home: SecondHome;
  /** Where the running writer puts its lines. */
  readonly place: { readonly epoch: number; readonly part: number };
}

interface Tally {
  toDatabase: number;
  toFile: number;
  unreadable: number;
  /** Lines that were whole once: more than a last one that a kill tore. */
  garbled: number;
}

interface Known {
  /** What the places outside the two homes remember. */
  readonly heads: Heads;
  /** The database was made anew: whatever stands in it is looked at. */
  readonly isNew: boolean;
}

export interface Reconciled {
  readonly report: Omit<ReconcileReport, 'databaseLost'>;
  /** Cases that neither home could make whole. */
  readonly damaged: readonly CaseDamage[];
  /** Lines of the file that cannot be read, torn last ones left out. */
  readonly garbled: number;
}

/** Lines written at once when the file is rebuilt. */
const RECORDS_A_WRITE = 500;

/**
 * Makes both homes hold the same. Rejects when either of them fails on the way; null where something is to
 * be mended and the code for it cannot be had now: then all of it is compared again at the next start.
 */
export async function reconcile(homes: Homes, { heads, isNew }: Known): Promise<Reconciled | null> {
  const { database, home } = homes;
  const compared = await readCompared(database);
  const files = await home.list();
  const all =
    isNew ||
    compared.through === 0 ||
    isOther(files, { compared, heads }) ||
    (await lacksCases(database, heads));
  const tally: Tally = { toDatabase: 0, toFile: 0, unreadable: 0, garbled: 0 };
  const isChanged = ({ name, epoch, bytes }: SegmentFile): boolean =>
    epoch > compared.through || compared.files[name] !== bytes;
  const first = await bringToDatabase(homes, {
    files: all ? files : files.filter(isChanged),
    tally,
  });
  // What stood in a garbled line is known to the other home alone, whichever epoch it was of.
  const rest = all || tally.garbled === 0 ? [] : files.filter((file) => !isChanged(file));
  const second = await bringToDatabase(homes, { files: rest, tally });
  const isAll = all || tally.garbled > 0;
  const suspects = await findSuspects(database, {
    all: isAll,
    since: compared.through + 1,
    heads,
    unfit: [...first.unfit, ...second.unfit],
    checked: first.whole,
  });
  const mended = await mendSuspects(homes, suspects);
  if (mended === null) return null;
  const inFile = new Set([...first.sums, ...second.sums]);
  await bringToFile(homes, { from: isAll ? 0 : compared.through + 1, inFile, tally });
  await writeCompared(homes);
  const report = {
    rebuilt: rebuiltOf({ ...tally, toDatabase: tally.toDatabase + mended.filled }),
    entries: tally.toDatabase + mended.filled + tally.toFile,
    conflicts: mended.conflicts,
    unreadable: tally.unreadable,
    mended: mended.filled,
  };
  return { report, damaged: mended.damaged, garbled: tally.garbled };
}

/** Whether the files are not those that were compared last: shorter, missing, or another tablet's. */
function isOther(
  files: readonly SegmentFile[],
  { compared, heads }: { readonly compared: Compared; readonly heads: Heads },
): boolean {
  if (files.length === 0) return true;
  const now = new Map(files.map((file) => [file.name, file.bytes]));
  const { through, files: sizes } = compared;
  const last = heads.file === null ? [] : [[heads.file.name, heads.file.bytes] as const];
  const isShorter = [...Object.entries(sizes), ...last].some(
    ([name, bytes]) => (now.get(name) ?? 0) < bytes,
  );
  return (
    isShorter || files.some(({ name, epoch, bytes }) => epoch <= through && sizes[name] !== bytes)
  );
}

function rebuiltOf({
  toDatabase,
  toFile,
}: Pick<Tally, 'toDatabase' | 'toFile'>): ReconcileReport['rebuilt'] {
  if (toDatabase > 0 && toFile > 0) return 'both';
  if (toDatabase > 0) return 'database';
  return toFile > 0 ? 'file' : null;
}

interface Brought {
  /** The sums of everything that stands in the files. */
  readonly sums: ReadonlySet<string>;
  /** Cases of which something in the files does not go on from what is stored. */
  readonly unfit: ReadonlySet<string>;
  /** Cases that came from the files alone: their chains were followed on the way. */
  readonly whole: ReadonlySet<string>;
}

/** Adopts what the files hold. */
async function bringToDatabase(
  { database, home }: Homes,
  { files, tally }: { files: readonly SegmentFile[]; tally: Tally },
): Promise<Brought> {
  const sums = new Set<string>();
  const unfit = new Set<string>();
  const whole = new Set<string>();
  for (const { name } of files) {
    const { records, unreadable } = readLines(await home.read(name));
    for (const record of records) sums.add(recordSum(record));
    tally.unreadable += unreadable.length;
    tally.garbled += unreadable.filter(({ reason }) => reason !== 'torn').length;
    await setApart(
      database,
      unreadable.map(({ reason, text }) => apartFromFile({ reason, content: text })),
    );
    for (const group of inGroups(records)) {
      const taken = await adoptGroup(database, { group, tally });
      if (taken?.fits === false) unfit.add(taken.caseId);
      if (taken?.isNew === true) whole.add(taken.caseId);
    }
  }
  return { sums, unfit, whole };
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

/** How the entries of a case were taken; null of anything else. */
async function adoptGroup(
  database: JournalDatabase,
  { group, tally }: { group: readonly FileRecord[]; tally: Tally },
): Promise<(Awaited<ReturnType<typeof adoptEntries>> & { readonly caseId: string }) | null> {
  const first = present(group[0], 'the first record of a group');
  if (first.record === 'document') {
    tally.toDatabase += await adoptDocument(database, first.body);
    return null;
  }
  if (first.record === 'tombstone') {
    tally.toDatabase += await adoptTombstone(database, first.body);
    return null;
  }
  const entries = group.flatMap((record) => (record.record === 'entry' ? [record.body] : []));
  const adopted = await adoptEntries(database, entries);
  tally.toDatabase += adopted.added;
  return { ...adopted, caseId: first.body.caseId };
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
    waiting.push(...records.filter((record) => isMissing(record, inFile)));
    while (waiting.length >= RECORDS_A_WRITE) await write();
  });
  if (waiting.length > 0) await write();
}

/** Damaged entries are left where they are: the file takes nothing that it could not read again. */
function isMissing(record: FileRecord, inFile: ReadonlySet<string>): boolean {
  try {
    if (inFile.has(recordSum(record))) return false;
  } catch {
    return false;
  }
  return record.record !== 'entry' || holdsAlone(record.body, record.body);
}

/** Notes how far the comparison went. Everything of the running epoch is compared next time. */
export async function writeCompared({ database, home, place }: Homes): Promise<void> {
  const files = await home.list();
  const sizes = Object.fromEntries(files.map(({ name, bytes }) => [name, bytes]));
  await strictly(database, async (writing) => {
    const meta = writing.objectStore('meta');
    await meta.put(sizes, 'files');
    await meta.put(place.epoch - 1, 'comparedThrough');
  });
}
