/**
 * A journal whose cases lie in a temporary file, so that a benchmark of memory measures what works
 * with the journal and not the journal itself. It checks what it reads and takes in as every journal
 * does; documents stay in memory. No case of it grows: a case is written once, or written anew.
 */
import {
  closeSync,
  ftruncateSync,
  mkdtempSync,
  openSync,
  readSync,
  rmSync,
  writeSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { ok } from '../../src/base/result.ts';
import { readingOf } from '../../src/storage/case-reading.ts';
import { summarise } from '../../src/storage/case-summary.ts';
import { chainEntries, NO_ENTRY_HASH } from '../../src/storage/hash-chain.ts';
import { checkBackup } from '../../src/storage/incoming.ts';
import type { CaseSummary, Journal, JournalEntry } from '../../src/storage/journal-types.ts';
import { nativeHashes } from '../../src/storage/native-hash.ts';
import { emptyJournal, type Filled } from '../backup/filled-journal.ts';

/** Where a case lies: its summary first, then its entries. */
interface Kept {
  readonly at: number;
  readonly summaryBytes: number;
  readonly bytes: number;
}

export interface DiskJournal extends Filled {
  /** Bytes of all cases as they lie in the file. */
  readonly bytes: () => number;
  readonly close: () => void;
}

export async function diskJournal(): Promise<DiskJournal> {
  const { journal: base, epoch } = await emptyJournal();
  const folder = mkdtempSync(join(tmpdir(), 'lutewatch-bench-'));
  const file = openSync(join(folder, 'cases'), 'w+');
  const cases = new Map<string, Kept>();
  let end = 0;

  const keep = (caseId: string, entries: readonly JournalEntry[]): void => {
    const summary = Buffer.from(JSON.stringify(summarise(null, entries)));
    const text = Buffer.concat([summary, Buffer.from(JSON.stringify(entries))]);
    writeSync(file, text, 0, text.length, end);
    cases.set(caseId, { at: end, summaryBytes: summary.length, bytes: text.length });
    end += text.length;
  };
  const parsedAt = (at: number, bytes: number): unknown => {
    const text = Buffer.allocUnsafe(bytes);
    readSync(file, text, 0, bytes, at);
    return JSON.parse(text.toString());
  };
  const summaryOf = ({ at, summaryBytes }: Kept): CaseSummary =>
    parsedAt(at, summaryBytes) as CaseSummary;
  const storedAt = ({ at, summaryBytes, bytes }: Kept): readonly unknown[] =>
    parsedAt(at + summaryBytes, bytes - summaryBytes) as readonly unknown[];
  const reading = (caseId: string) => {
    const kept = cases.get(caseId);
    if (kept === undefined) return readingOf(caseId, { stored: [], summary: null });
    return readingOf(caseId, { stored: storedAt(kept), summary: summaryOf(kept) });
  };
  const own: Partial<Journal> = {
    append: async ({ caseId, recorded, epoch: now }) => {
      const before = cases.has(caseId) ? reading(caseId).entries : [];
      const prev = before.at(-1)?.hash ?? NO_ENTRY_HASH;
      const entries = chainEntries(recorded, { caseId, epoch: now, prev });
      keep(caseId, [...before, ...entries]);
      return ok({ entries, copies: 1 });
    },
    adopt: async (taken) => {
      const checked = checkBackup(taken, reading(taken.caseId));
      if (!checked.ok) return checked;
      const { entries, missing } = checked.value;
      if (missing.length > 0) keep(taken.caseId, entries);
      return ok({ added: missing.length });
    },
    read: async (caseId) => {
      const kept = cases.get(caseId);
      if (kept === undefined) return ok(reading(caseId));
      const stored = storedAt(kept);
      const hashes = await nativeHashes(stored);
      return ok(readingOf(caseId, { stored, summary: summaryOf(kept), hashes }));
    },
    listCases: async () => ok([...cases.values()].map(summaryOf)),
    deleteCase: async (deletion) => {
      const kept = cases.get(deletion.caseId);
      const { entries = 0, head = NO_ENTRY_HASH } = kept === undefined ? {} : summaryOf(kept);
      cases.delete(deletion.caseId);
      const tombstone = { ...deletion, entries, head };
      await base.adoptTombstone(tombstone);
      return ok(tombstone);
    },
  };
  const journal = new Proxy(base, {
    get: (target, name) => {
      const value: unknown = Reflect.get(own, name) ?? Reflect.get(target, name, target);
      return typeof value === 'function' ? value.bind(target) : value;
    },
  });
  const close = (): void => {
    ftruncateSync(file);
    closeSync(file);
    rmSync(folder, { recursive: true });
  };
  return { journal, epoch, bytes: () => end, close };
}
