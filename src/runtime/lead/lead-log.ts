/**
 * What happened at the clinic lead's desk: an append-only list of documents, each with the hash of
 * the one before it. Hash: SHA-256 over the RFC 8785 canonical JSON of the entry without its hash.
 * It shows accidents and casual edits; it does not stop somebody who rewrites all of it.
 */

import * as v from 'valibot';
import { err, ok, type Result } from '../../base/result.ts';
import { canonicalText } from '../../protocol/canonical-text.ts';
import { parsedOr } from '../../protocol/read-outside.ts';
import { hashText, NO_ENTRY_HASH } from '../../storage/hash-chain.ts';
import type { Journal, JournalProblem } from '../../storage/journal-types.ts';
import { LEAD_DEEDS, type LeadDeed, type LeadValues } from '../../words/codes.ts';
import { LEAD_LOG } from './lead-documents.ts';

interface LeadEntry {
  readonly seq: number;
  readonly atWallMs: number;
  /** Who was at the desk; empty when it was closed. */
  readonly by: string;
  readonly deed: LeadDeed;
  readonly values: LeadValues;
  readonly prev: string;
  readonly hash: string;
}

/** An entry as it was read, and whether it may vouch for what it tells. */
interface ReadEntry extends LeadEntry {
  /** False behind a break of the chain, until somebody at the desk has noted the break. */
  readonly vouches: boolean;
}

export interface LeadLog {
  /** The entries that are as they were written. */
  readonly entries: readonly ReadEntry[];
  /** Places where an entry was altered, is missing or does not follow the one before it. */
  readonly broken: number;
  /** Whether a break stands behind the last entry that noted one. */
  readonly isOpenBreak: boolean;
}

const SEQ_DIGITS = 8;

const entryId = (seq: number): string => String(seq).padStart(SEQ_DIGITS, '0');

function entryHash(entry: Omit<LeadEntry, 'hash'>): string {
  const { seq, atWallMs, by, deed, values, prev } = entry;
  return hashText(canonicalText({ seq, atWallMs, by, deed, values, prev }));
}

const entrySchema = v.object({
  seq: v.number(),
  atWallMs: v.number(),
  by: v.string(),
  deed: v.picklist(LEAD_DEEDS),
  values: v.record(v.string(), v.union([v.string(), v.number()])),
  prev: v.string(),
  hash: v.string(),
});

/**
 * Reads the chain from its start. An entry that was altered is left out, and each place where the
 * chain does not hold is counted. What was added after a break is read, but vouches for nothing
 * until an entry that notes the break: it was written here, by somebody who had opened the desk.
 */
export function verifyLeadLog(values: readonly unknown[]): LeadLog {
  const entries: ReadEntry[] = [];
  let broken = 0;
  let isOpenBreak = false;
  let missing = 0;
  for (const value of values) {
    const entry = parsedOr(entrySchema, value);
    const last = entries.at(-1);
    if (entry === null || entry.hash !== entryHash(entry)) {
      broken += 1;
      isOpenBreak = true;
      missing += 1;
      continue;
    }
    const follows = entry.prev === (last?.hash ?? NO_ENTRY_HASH);
    const isNext = entry.seq === (last?.seq ?? -1) + 1 + missing;
    missing = 0;
    if (!follows || !isNext) {
      broken += 1;
      isOpenBreak = true;
    }
    if (entry.deed === 'break-noted' && entry.values['broken'] === broken && follows) {
      isOpenBreak = false;
    }
    entries.push({ ...entry, vouches: !isOpenBreak });
  }
  return { entries, broken, isOpenBreak };
}

async function storedValues(journal: Journal): Promise<Result<unknown[], JournalProblem>> {
  const listed = await journal.documents.list(LEAD_LOG);
  if (!listed.ok) return listed;
  const sorted = listed.value.toSorted((a, b) => (a.id < b.id ? -1 : 1));
  return ok(sorted.map((document) => document.value));
}

/** The log as it is stored, in order. */
export async function readLeadLog(journal: Journal): Promise<Result<LeadLog, JournalProblem>> {
  const values = await storedValues(journal);
  return values.ok ? ok(verifyLeadLog(values.value)) : values;
}

/** Adds one entry behind the last one. Nothing is ever written over. */
export async function appendLeadLog(
  journal: Journal,
  o: {
    readonly epoch: number;
    readonly atWallMs: number;
    readonly by: string;
    readonly deed: LeadDeed;
    readonly values: LeadValues;
  },
): Promise<Result<LeadEntry, JournalProblem>> {
  const stored = await storedValues(journal);
  if (!stored.ok) return stored;
  const last = verifyLeadLog(stored.value).entries.at(-1);
  const { atWallMs, by, deed, values } = o;
  const seq = Math.max(stored.value.length, last === undefined ? 0 : last.seq + 1);
  const open = { seq, atWallMs, by, deed, values, prev: last?.hash ?? NO_ENTRY_HASH };
  const entry = { ...open, hash: entryHash(open) };
  const document = { kind: LEAD_LOG, id: entryId(seq), value: entry, epoch: o.epoch };
  const kept = await journal.documents.put(document);
  return kept.ok ? ok(entry) : err(kept.error);
}

/** The hashes of revisions whose confirmation the log vouches for, with the number of the entry. */
export function vouchedHashes(entries: readonly ReadEntry[]): ReadonlyMap<string, number> {
  return new Map(
    entries.flatMap((e): [string, number][] =>
      e.deed === 'confirmed' && e.vouches ? [[String(e.values['hash']), e.seq]] : [],
    ),
  );
}

/** What was noted already of stored protocols that are not as they were confirmed: `id hash`. */
export function refusalsTold(entries: readonly ReadEntry[]): ReadonlySet<string> {
  return new Set(
    entries
      .filter((entry) => entry.deed === 'stored-refused')
      .map((entry) => `${entry.values['document']} ${entry.values['storedHash']}`),
  );
}

/** Whether a stored value is the very entry that would come next in an unbroken log. */
export function isNextInLog(log: readonly unknown[], value: unknown): boolean {
  const before = verifyLeadLog(log);
  const after = verifyLeadLog([...log, value]);
  return after.entries.length === log.length + 1 && after.broken === before.broken;
}

/** The log as a file that others can check. */
export function leadLogText(log: LeadLog): string {
  const { broken } = log;
  const entries = log.entries.map(({ vouches: _, ...entry }) => entry);
  return `${JSON.stringify({ format: 'lutewatch-lead-log', formatVersion: 1, entries, broken }, null, 2)}\n`;
}
