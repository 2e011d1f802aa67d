/**
 * Every change of the stored journal, each one strict transaction that also checks the writer's
 * epoch: what a replaced writer still sends arrives after its successor's epoch and is refused here,
 * where no other check could come too late. A lost connection shows as a rejection.
 */
import type { IDBPTransaction } from 'idb';
import { err, ok } from '../base/result.ts';
import type { Stamp } from '../engine/types.ts';
import { canonicalText, keptText } from '../protocol/canonical-text.ts';
import { summarise } from './case-summary.ts';
import {
  CHAIN_START,
  type ChainPoint,
  chainEntries,
  checkEntry,
  hashText,
  holdsAlone,
  NO_ENTRY_HASH,
  pointAfter,
} from './hash-chain.ts';
import { refuse } from './journal-problem.ts';
import type {
  AppendBatch,
  CaseSummary,
  JournalEntry,
  JournalProblem,
  JournalResult,
  SetApart,
  StoredDocument,
  Tombstone,
} from './journal-types.ts';
import type { JournalDatabase, JournalSchema } from './migrations.ts';

const WRITTEN = ['entries', 'cases', 'documents', 'tombstones', 'apart', 'meta'] as const;
type Written = (typeof WRITTEN)[number][];
type Writing = IDBPTransaction<JournalSchema, Written, 'readwrite'>;

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

async function fence(writing: Writing, epoch: number): Promise<JournalProblem | null> {
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

async function refuseDeleted(writing: Writing, caseId: string): Promise<JournalProblem | null> {
  const gone = await writing.objectStore('tombstones').get(caseId);
  if (gone === undefined) return null;
  return refuse('case-deleted', {
    place: `journal.cases.${caseId}`,
    expected: 'a case that is kept',
    came: gone.reason,
  }).error;
}

async function putEntries(
  writing: Writing,
  { before, entries }: { before: CaseSummary | null; entries: readonly JournalEntry[] },
): Promise<CaseSummary> {
  const summary = summarise(before, entries);
  const store = writing.objectStore('entries');
  await Promise.all([
    ...entries.map((entry) => store.add(entry)),
    writing.objectStore('cases').put(summary),
  ]);
  return summary;
}

/** Chains one press onto its case and stores it. Storing the same press again changes nothing. */
export function appendPress(
  database: JournalDatabase,
  batch: AppendBatch,
): JournalResult<readonly JournalEntry[]> {
  return strictly(database, async (writing) => {
    const { caseId, epoch, recorded } = batch;
    const refusal = (await fence(writing, epoch)) ?? (await refuseDeleted(writing, caseId));
    if (refusal !== null) return err(refusal);
    const before = (await writing.objectStore('cases').get(caseId)) ?? null;
    const seq = before?.entries ?? 0;
    const stored = await storedAlready(writing, batch);
    if (stored !== null) return ok(stored);
    if (recorded[0]?.seq !== seq || recorded.some((entry, i) => entry.seq !== seq + i)) {
      return refuse('wrong-seq', {
        place: `journal.cases.${caseId}`,
        expected: `entries from ${seq} without holes`,
        came: recorded.map((entry) => entry.seq),
      });
    }
    const entries = chainEntries(recorded, { caseId, epoch, prev: before?.head ?? NO_ENTRY_HASH });
    await putEntries(writing, { before, entries });
    return ok(entries);
  });
}

/** The stored entries, when a transaction whose answer was lost had stored this very press. */
async function storedAlready(
  writing: Writing,
  { caseId, epoch, recorded }: AppendBatch,
): Promise<readonly JournalEntry[] | null> {
  const store = writing.objectStore('entries');
  const found = await Promise.all(recorded.map(({ seq }) => store.get([caseId, seq])));
  const stored = found.filter((entry) => entry !== undefined);
  const prev = stored[0]?.prev;
  if (prev === undefined || stored.length < recorded.length) return null;
  const chained = chainEntries(recorded, { caseId, epoch, prev });
  return chained.every((entry, i) => entry.hash === stored[i]?.hash) ? stored : null;
}

interface Adoption {
  /** Entries that were not stored, or only as something damaged. */
  readonly added: number;
  readonly conflicts: number;
  /** Entries that link to nothing stored yet. */
  readonly loose: readonly JournalEntry[];
}

/**
 * Takes over entries of one case that were chained before, in the order of `seq`. What is stored
 * already is skipped, what continues the chain is added, a different entry at a taken place is set
 * apart, and the rest comes back as `loose`. A deleted case takes nothing.
 */
export function adoptEntries(
  database: JournalDatabase,
  entries: readonly JournalEntry[],
): Promise<Adoption> {
  return strictly(database, async (writing) => {
    const deleted = await refuseDeleted(writing, entries[0]?.caseId ?? '');
    if (deleted !== null) return { added: 0, conflicts: 0, loose: [] };
    return adoptInto(writing, { from: 'file', entries, brokenFrom: Infinity });
  });
}

/**
 * The same for a backup, which people must be told about when it is refused. What is lost here, fails
 * its own hash or lies behind the break of the chain gives way to the backup, and is set apart.
 * @param o.brokenFrom the first place at which the chain that is stored here does not hold.
 */
export function importEntries(
  database: JournalDatabase,
  o: { epoch: number; entries: readonly JournalEntry[]; brokenFrom: number },
): JournalResult<Adoption> {
  const { epoch, entries, brokenFrom } = o;
  return strictly(database, async (writing) => {
    const refusal =
      (await fence(writing, epoch)) ?? (await refuseDeleted(writing, entries[0]?.caseId ?? ''));
    return refusal === null
      ? ok(await adoptInto(writing, { from: 'import', entries, brokenFrom }))
      : err(refusal);
  });
}

async function adoptInto(
  writing: Writing,
  o: { from: SetApart['from']; entries: readonly JournalEntry[]; brokenFrom: number },
): Promise<Adoption> {
  const { from, entries, brokenFrom } = o;
  const caseId = entries[0]?.caseId ?? '';
  const before = (await writing.objectStore('cases').get(caseId)) ?? null;
  const taken: JournalEntry[] = [];
  const loose: JournalEntry[] = [];
  let point: ChainPoint =
    before === null ? CHAIN_START : { caseId, seq: before.entries, prev: before.head };
  let conflicts = 0;
  let mended = 0;
  for (const entry of entries) {
    if (entry.seq < point.seq) {
      const found = await compareWith(writing, { entry, from, taken, brokenFrom });
      conflicts += found === 'other' ? 1 : 0;
      mended += found === 'mended' ? 1 : 0;
    } else if (checkEntry(entry, point) === null) {
      taken.push(entry);
      point = pointAfter(entry);
    } else loose.push(entry);
  }
  if (taken.length > 0) await putEntries(writing, { before, entries: taken });
  return { added: taken.length + mended, conflicts, loose };
}

async function compareWith(
  writing: Writing,
  found: Pick<SetApart, 'from'> & {
    entry: JournalEntry;
    taken: readonly JournalEntry[];
    brokenFrom: number;
  },
): Promise<'same' | 'other' | 'mended'> {
  const { entry, from, taken, brokenFrom } = found;
  const { caseId, seq } = entry;
  const store = writing.objectStore('entries');
  const stored = taken.find((other) => other.seq === seq) ?? (await store.get([caseId, seq]));
  const isBehindBreak = seq >= brokenFrom && stored?.hash !== entry.hash;
  // Only what people bring back mends; at a start damage must show and not heal unseen.
  if (from === 'import' && (isBehindBreak || !holdsAlone(stored, entry))) {
    const damaged = { from, reason: 'damaged', caseId, seq, content: stored };
    if (stored !== undefined) await putApart(writing, damaged);
    await store.put(entry);
    return 'mended';
  }
  if (stored?.hash === entry.hash) return 'same';
  await putApart(writing, { from, reason: 'conflict', caseId, seq, content: entry });
  return 'other';
}

/** Named by its content: finding the same thing again at a later start adds nothing. */
async function putApart(writing: Writing, found: SetApart): Promise<void> {
  const key = `${found.from}:${found.reason}:${hashText(keptText(found.content))}`;
  await writing.objectStore('apart').put(found, key);
}

/** Keeps what fits nowhere. */
export async function setApart(
  database: JournalDatabase,
  found: readonly SetApart[],
): Promise<void> {
  if (found.length === 0) return;
  await strictly(database, async (writing) => {
    for (const one of found) await putApart(writing, one);
  });
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

/** Deletes a case and leaves a tombstone. Deleting it again gives the same tombstone. */
export function buryCase(
  database: JournalDatabase,
  deletion: { caseId: string; epoch: number; stamp: Stamp; by: string | null; reason: string },
): JournalResult<Tombstone> {
  return strictly(database, async (writing) => {
    const { caseId, epoch } = deletion;
    const refusal = await fence(writing, epoch);
    if (refusal !== null) return err(refusal);
    const buried = await writing.objectStore('tombstones').get(caseId);
    if (buried !== undefined) return ok(buried);
    const summary = await writing.objectStore('cases').get(caseId);
    if (summary === undefined) {
      return refuse('no-such-case', {
        place: `journal.cases.${caseId}`,
        expected: 'a stored case',
        came: undefined,
      });
    }
    const tombstone = { ...deletion, entries: summary.entries, head: summary.head };
    await putTombstone(writing, tombstone);
    return ok(tombstone);
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
