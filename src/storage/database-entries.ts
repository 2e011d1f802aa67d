/** Changes of the stored entries of cases, each one strict transaction, and of what is set apart. */
import { err, ok } from '../base/result.ts';
import { keptText } from '../protocol/canonical-text.ts';
import { summarise } from './case-summary.ts';
import { fence, refuseDeleted, strictly, type Writing } from './database-transactions.ts';
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
  JournalResult,
  SetApart,
} from './journal-types.ts';
import type { JournalDatabase } from './migrations.ts';

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

interface Added {
  /** Entries that were not stored, or only as something damaged. */
  readonly added: number;
}

/**
 * Takes over neighbouring entries of one case from a file: what is stored already is skipped, what
 * continues the chain is added. `fits` is false where anything else was met: the case must then be
 * looked at as a whole (`mend-case.ts`). A deleted case takes nothing.
 * @returns also whether nothing of the case was stored before.
 */
export function adoptEntries(
  database: JournalDatabase,
  entries: readonly JournalEntry[],
): Promise<{ readonly added: number; readonly fits: boolean; readonly isNew: boolean }> {
  return strictly(database, async (writing) => {
    const caseId = entries[0]?.caseId ?? '';
    if ((await refuseDeleted(writing, caseId)) !== null) {
      return { added: 0, fits: true, isNew: false };
    }
    const before = (await writing.objectStore('cases').get(caseId)) ?? null;
    const store = writing.objectStore('entries');
    const from = before?.entries ?? 0;
    const taken: JournalEntry[] = [];
    let fits = true;
    let point: ChainPoint =
      before === null ? CHAIN_START : { caseId, seq: before.entries, prev: before.head };
    for (const entry of entries) {
      const { seq } = entry;
      if (checkEntry(entry, point) === null) {
        taken.push(entry);
        point = pointAfter(entry);
        continue;
      }
      const known = seq < from ? await store.get([caseId, seq]) : taken[seq - from];
      fits = fits && known?.hash === entry.hash;
    }
    if (taken.length === 0) return { added: 0, fits, isNew: false };
    // Entries may have outlived the summary that told of them.
    const leftOver = await store.count(IDBKeyRange.bound([caseId, from], [caseId, []]));
    if (leftOver > 0) return { added: 0, fits: false, isNew: false };
    await putEntries(writing, { before, entries: taken });
    return { added: taken.length, fits, isNew: before === null };
  });
}

/**
 * Takes over a backup of one case, in the order of `seq`; people must be told when it is refused. What
 * is lost here, fails its own hash or lies behind the break of the chain gives way to the backup, and is
 * set apart.
 * @param o.brokenFrom the first place at which the chain that is stored here does not hold.
 */
export function importEntries(
  database: JournalDatabase,
  o: { epoch: number; entries: readonly JournalEntry[]; brokenFrom: number },
): JournalResult<Added> {
  const { epoch, entries, brokenFrom } = o;
  return strictly(database, async (writing) => {
    const refusal =
      (await fence(writing, epoch)) ?? (await refuseDeleted(writing, entries[0]?.caseId ?? ''));
    return refusal === null ? ok(await importInto(writing, { entries, brokenFrom })) : err(refusal);
  });
}

async function importInto(
  writing: Writing,
  { entries, brokenFrom }: { entries: readonly JournalEntry[]; brokenFrom: number },
): Promise<Added> {
  const caseId = entries[0]?.caseId ?? '';
  const before = (await writing.objectStore('cases').get(caseId)) ?? null;
  const taken: JournalEntry[] = [];
  let point: ChainPoint =
    before === null ? CHAIN_START : { caseId, seq: before.entries, prev: before.head };
  let mended = 0;
  for (const entry of entries) {
    if (entry.seq < point.seq) {
      mended += (await mendPlace(writing, { entry, taken, brokenFrom })) ? 1 : 0;
    } else if (checkEntry(entry, point) === null) {
      taken.push(entry);
      point = pointAfter(entry);
    }
  }
  await clearPlaces(writing, taken);
  if (taken.length > 0) await putEntries(writing, { before, entries: taken });
  return { added: taken.length + mended };
}

/** Where the line in the list of cases is gone or older, entries may lie where others are to come. */
async function clearPlaces(writing: Writing, coming: readonly JournalEntry[]): Promise<void> {
  const store = writing.objectStore('entries');
  for (const entry of coming) {
    const { caseId, seq } = entry;
    const stored = await store.get([caseId, seq]);
    if (stored === undefined) continue;
    const damaged = { from: 'import', reason: 'damaged', caseId, seq, content: stored } as const;
    if (stored.hash !== entry.hash || !holdsAlone(stored, entry)) await putApart(writing, damaged);
    await store.delete([caseId, seq]);
  }
}

/** Puts an entry in the place of a damaged one; beside one that holds it is set apart. Whether it took the place. */
async function mendPlace(
  writing: Writing,
  found: { entry: JournalEntry; taken: readonly JournalEntry[]; brokenFrom: number },
): Promise<boolean> {
  const { entry, taken, brokenFrom } = found;
  const { caseId, seq } = entry;
  const from = 'import';
  const store = writing.objectStore('entries');
  const stored = taken.find((other) => other.seq === seq) ?? (await store.get([caseId, seq]));
  const isBehindBreak = seq >= brokenFrom && stored?.hash !== entry.hash;
  if (isBehindBreak || !holdsAlone(stored, entry)) {
    const damaged = { from, reason: 'damaged', caseId, seq, content: stored } as const;
    if (stored !== undefined) await putApart(writing, damaged);
    await store.put(entry);
    return true;
  }
  if (stored?.hash === entry.hash) return false;
  await putApart(writing, { from, reason: 'conflict', caseId, seq, content: entry });
  return false;
}

/** Named by its content: finding the same thing again at a later start adds nothing. */
export async function putApart(writing: Writing, found: SetApart): Promise<void> {
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
