/**
 * The hash chain of one case. Hash: SHA-256 (FIPS 180-4) over the UTF-8 bytes of the canonical JSON
 * (RFC 8785) of the entry without its own hash. Each entry carries the hash of the one before it, so
 * that a change, a gap, a swap or a foreign entry shows at the first place it touches. A chain on the
 * device shows accidents and casual edits; it does not stop somebody who rewrites all of it.
 */
import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';
import type { Recorded } from '../engine/types.ts';
import { canonicalText } from '../protocol/canonical-text.ts';
import type { BadReason, ChainVerdict, JournalEntry } from './journal-types.ts';
import { parseEntry } from './parse-stored.ts';

/** What the first entry of a case points at. */
export const NO_ENTRY_HASH = '0'.repeat(64);

/** Lower-case hex SHA-256 of the UTF-8 bytes of `text`. */
export function hashText(text: string): string {
  return bytesToHex(sha256(utf8ToBytes(text)));
}

/**
 * The text that the hash of an entry is made of; the hash it carries is left out.
 * @throws Error when the event holds something that JSON cannot carry.
 */
export function entryText(entry: Omit<JournalEntry, 'hash'>): string {
  const { caseId, seq, press, epoch, stamp, by, event, prev } = entry;
  return canonicalText({ caseId, seq, press, epoch, stamp, by, event, prev });
}

/** The hash that `entry` ought to carry. */
export function entryHash(entry: Omit<JournalEntry, 'hash'>): string {
  return hashText(entryText(entry));
}

/**
 * Links `recorded` onto a chain that ends in `prev`.
 * @throws Error when an event holds something that JSON cannot carry.
 */
export function chainEntries(
  recorded: readonly Recorded[],
  onto: { readonly caseId: string; readonly epoch: number; readonly prev: string },
): readonly JournalEntry[] {
  const { caseId, epoch } = onto;
  let prev = onto.prev;
  return recorded.map(({ seq, press, stamp, by, event }) => {
    const open = { caseId, seq, press, epoch, stamp, by, event, prev };
    const entry = { ...open, hash: entryHash(open) };
    prev = entry.hash;
    return entry;
  });
}

/** What a chain has come to: what its next entry must be. */
export interface ChainPoint {
  readonly caseId: string | null;
  readonly seq: number;
  readonly prev: string;
}

/** Before the first entry. */
export const CHAIN_START: ChainPoint = { caseId: null, seq: 0, prev: NO_ENTRY_HASH };

/** The point after `entry`. */
export function pointAfter(entry: JournalEntry): ChainPoint {
  return { caseId: entry.caseId, seq: entry.seq + 1, prev: entry.hash };
}

type Checked =
  | { readonly entry: JournalEntry; readonly reason: null }
  | { readonly entry: null; readonly reason: BadReason };

const bad = (reason: BadReason): Checked => ({ entry: null, reason });

function checked(value: unknown, at: ChainPoint, hash: string | undefined): Checked {
  const entry = parseEntry(value);
  if (entry === null) return bad('shape');
  if (at.caseId !== null && entry.caseId !== at.caseId) return bad('other-case');
  if (entry.seq !== at.seq) return bad('sequence');
  if (entry.prev !== at.prev) return bad('link');
  const holds = hash === undefined ? hashHolds(entry) : entry.hash === hash;
  return holds ? { entry, reason: null } : bad('hash');
}

/** Checks one entry against the point it claims to stand at; null when it holds. */
export function checkEntry(value: unknown, at: ChainPoint): BadReason | null {
  return checked(value, at, undefined).reason;
}

/** True when the entry's own hash is right; says nothing about its neighbours. */
export function hashHolds(entry: JournalEntry): boolean {
  try {
    return entryHash(entry) === entry.hash;
  } catch {
    return false;
  }
}

/** Whether what is stored at a place is an entry of it that holds by itself. */
export function holdsAlone(
  value: unknown,
  { caseId, seq }: { readonly caseId: string; readonly seq: number },
): boolean {
  const entry = parseEntry(value);
  return entry !== null && entry.caseId === caseId && entry.seq === seq && hashHolds(entry);
}

/** Hashes that entries ought to carry, worked out beforehand, by the stored value itself. */
export type KnownHashes = ReadonlyMap<unknown, string>;

const NONE_KNOWN: KnownHashes = new Map();

/** The entries that hold, and the first that does not. */
export function followChain(
  values: readonly unknown[],
  { from, hashes }: { readonly from: ChainPoint; readonly hashes: KnownHashes },
): { readonly entries: readonly JournalEntry[]; readonly verdict: ChainVerdict } {
  let point = from;
  const entries: JournalEntry[] = [];
  for (const [index, value] of values.entries()) {
    const { entry, reason } = checked(value, point, hashes.get(value));
    if (entry === null) {
      return { entries, verdict: { goodCount: index, firstBad: { index, reason } } };
    }
    entries.push(entry);
    point = pointAfter(entry);
  }
  return { entries, verdict: { goodCount: values.length, firstBad: null } };
}

/**
 * Follows the chain from `from` (the start of the case when left out). The first entry that does
 * not hold ends it: that entry and everything after it is to be set apart by the caller.
 */
export function verifyChain(
  entries: readonly unknown[],
  from: ChainPoint = CHAIN_START,
): ChainVerdict {
  return followChain(entries, { from, hashes: NONE_KNOWN }).verdict;
}
