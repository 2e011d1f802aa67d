/**
 * What happened at the clinic lead's desk: an append-only list for each tablet, each entry a fact with the
 * hash of the one before it. Hash: SHA-256 over the RFC 8785 canonical JSON of the entry without its hash.
 * It shows accidents and casual edits; it does not stop somebody who rewrites all of it.
 */

import * as v from 'valibot';
import { fieldsOf } from '../../base/json.ts';
import { err, ok, type Result } from '../../base/result.ts';
import type { Anchor } from '../../export/anchor.ts';
import { canonicalText, isStorable } from '../../protocol/canonical-text.ts';
import { parsedOr } from '../../protocol/read-outside.ts';
import { hashText, NO_ENTRY_HASH } from '../../storage/hash-chain.ts';
import type { Journal, JournalProblem } from '../../storage/journal-types.ts';
import { LEAD_DEEDS, type LeadDeed, type LeadValues } from '../../words/codes.ts';
import { anchorOf, HEAD, logItem } from '../anchors/head-facts.ts';
import { asFact, type Fact, keepFact, listFacts } from '../facts/fact.ts';
import { byItem } from '../facts/fact-history.ts';
import { readThisTablet, type ThisTablet } from '../facts/this-tablet.ts';
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
  /** The tablet of the clinic at whose desk it was made; absent for this one, and those that go on here. */
  readonly desk?: string;
}

export interface LeadLog {
  /** The entries that are as they were written. */
  readonly entries: readonly ReadEntry[];
  /** Places where an entry was altered, is missing or does not follow the one before it. */
  readonly broken: number;
  /** Whether a break stands behind the last entry that noted one. */
  readonly isOpenBreak: boolean;
  /** Those of this tablet's own log, where others were taken over; what a note of a break must say. */
  readonly ownBroken?: number;
}

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
    if (entry === null || !isStorable(entry) || entry.hash !== entryHash(entry)) {
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

/** The log of another tablet's desk, as a backup told it. It vouches for nothing here. */
export interface OtherLog {
  readonly tablet: string;
  readonly log: LeadLog;
}

interface LeadLogs {
  /** What counts here: logs that were taken over after a loss, those of the clinic's desks, then its own. */
  readonly log: LeadLog;
  readonly others: readonly OtherLog[];
}

const seqOf = (said: unknown): number => {
  const { seq } = fieldsOf(said);
  return typeof seq === 'number' ? seq : Number.POSITIVE_INFINITY;
};

/** One desk's entries in order. */
function chainOf(facts: readonly Fact[]): readonly Fact[] {
  return facts.toSorted((a, b) => seqOf(a.said) - seqOf(b.said) || (a.id < b.id ? -1 : 1));
}

/** Nobody makes so many entries at one desk; a head that says more is no head of it. */
const LOG_ENTRIES_MAX = 100_000;

/** Those that were kept here: what a backup brought to a desk says nothing of its log. */
const anchorsOf = (
  heads: readonly Fact[],
  o: { readonly tablet: string; readonly cameIn: ReadonlySet<string> },
): readonly Anchor[] =>
  heads
    .filter(({ id, item }) => item === logItem(o.tablet) && !o.cameIn.has(id))
    .flatMap((fact) => anchorOf(fact) ?? []);

/** How long a log was known to be by heads that were kept of it; entries behind its end were cut off. */
function cutFrom(chain: readonly Fact[], anchors: readonly Anchor[]): readonly number[] {
  const hashes = new Set(chain.map(({ said }) => fieldsOf(said)['hash']));
  const seqs = new Set(chain.map(({ said }) => seqOf(said)));
  const lost = anchors.filter(({ head }) => !hashes.has(head));
  const entries = Math.min(LOG_ENTRIES_MAX, Math.max(0, ...lost.map((a) => a.entries)));
  return Array.from({ length: entries }, (_, seq) => seq).filter((seq) => !seqs.has(seq));
}

type Written = ReturnType<typeof writtenAt>;

/** Numbers of entries that are gone altogether; what was damaged is there. */
const cutOf = ({ chain, damaged, anchors }: Written): readonly number[] =>
  damaged.length > 0 ? [] : cutFrom(chain, anchors);

/** What could not be read of a log counts at the place of its number, as far as that is known. */
function logOf(written: Written): LeadLog {
  const placed = [
    ...cutOf(written).map((seq) => ({ seq, value: null })),
    ...written.chain.map(({ said }) => ({ seq: seqOf(said), value: said })),
    ...written.damaged.map((value) => ({ seq: seqOf(fieldsOf(value)['said']), value: null })),
  ].toSorted((a, b) => a.seq - b.seq);
  return verifyLeadLog(placed.map(({ value }) => value));
}

const firstAtMs = ({ entries }: LeadLog): number => entries[0]?.atWallMs ?? 0;

interface LogFacts extends ThisTablet {
  readonly facts: readonly Fact[];
  /** What is stored of entries that cannot be read. */
  readonly damaged: readonly unknown[];
  readonly heads: readonly Fact[];
}

async function readLogFacts(
  journal: Pick<Journal, 'documents'>,
): Promise<Result<LogFacts, JournalProblem>> {
  const [listed, here, heads] = await Promise.all([
    listFacts(journal, LEAD_LOG),
    readThisTablet(journal),
    listFacts(journal, HEAD),
  ]);
  if (!listed.ok) return listed;
  if (!here.ok) return here;
  if (!heads.ok) return heads;
  const { facts, damaged } = listed.value;
  const values = damaged.map(({ value }) => value);
  return ok({ ...here.value, facts, damaged: values, heads: heads.value.facts });
}

/** What was written at one desk, what of it cannot be read, and what is known of its length. */
function writtenAt(item: string, { facts, damaged, heads, cameIn }: LogFacts) {
  return {
    chain: chainOf(facts.filter((fact) => fact.item === item && !cameIn.has(fact.id))),
    damaged: damaged.filter((value) => fieldsOf(value)['item'] === item),
    anchors: anchorsOf(heads, { tablet: item, cameIn }),
  };
}

/** Every desk's log that this tablet knows. Errors: the journal's. */
export async function readLeadLogs(
  journal: Pick<Journal, 'documents'>,
): Promise<Result<LeadLogs, JournalProblem>> {
  const read = await readLogFacts(journal);
  if (!read.ok) return read;
  const { tablet, cameIn, takenOver, clinic, facts } = read.value;
  const isOfDesk = (item: string): boolean =>
    item === tablet || takenOver.has(item) || clinic.has(item);
  // What a backup brought in the name of this desk is another's word: it breaks nothing, and vouches for nothing.
  const brought = byItem(facts.filter(({ id, item }) => !isOfDesk(item) || cameIn.has(id)));
  const logAt = (item: string): LeadLog => logOf(writtenAt(item, read.value));
  const own = logAt(tablet);
  const earlier = [...takenOver]
    .filter((item) => item !== tablet)
    .map(logAt)
    .toSorted((a, b) => firstAtMs(a) - firstAtMs(b));
  const ofClinic = [...clinic]
    .filter((item) => item !== tablet && !takenOver.has(item))
    .toSorted()
    .flatMap((desk) => logAt(desk).entries.map((entry) => ({ ...entry, desk })));
  const others = [...brought]
    .toSorted(([a], [b]) => (a < b ? -1 : 1))
    .map(([item, its]) => ({
      tablet: item,
      log: logOf({ chain: chainOf(its), damaged: [], anchors: [] }),
    }));
  return ok({
    log: {
      entries: [...earlier.flatMap(({ entries }) => entries), ...ofClinic, ...own.entries],
      broken: earlier.reduce((sum, { broken }) => sum + broken, own.broken),
      isOpenBreak: own.isOpenBreak,
      ownBroken: own.broken,
    },
    others,
  });
}

/** How many entries this tablet's own log has, and the last; null where there is none or it does not hold. */
export async function ownLogHead(
  journal: Pick<Journal, 'documents'>,
): Promise<{ readonly entries: number; readonly head: string } | null> {
  const read = await readLogFacts(journal);
  if (!read.ok) return null;
  const { chain } = writtenAt(read.value.tablet, read.value);
  const { entries, broken } = verifyLeadLog(chain.map(({ said }) => said));
  const last = entries.at(-1);
  return last === undefined || broken > 0 ? null : { entries: last.seq + 1, head: last.hash };
}

/** Adds one entry behind the last one of this tablet's own log. Nothing is ever written over. */
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
  const read = await readLogFacts(journal);
  if (!read.ok) return read;
  const { tablet } = read.value;
  const written = writtenAt(tablet, read.value);
  const last = verifyLeadLog(written.chain.map(({ said }) => said)).entries.at(-1);
  const { atWallMs, by, deed, values } = o;
  const count = written.chain.length + written.damaged.length;
  const behindCut = Math.max(-1, ...cutOf(written)) + 1;
  const seq = Math.max(count, behindCut, last === undefined ? 0 : last.seq + 1);
  const open = { seq, atWallMs, by, deed, values, prev: last?.hash ?? NO_ENTRY_HASH };
  const entry = { ...open, hash: entryHash(open) };
  const fact = {
    kind: LEAD_LOG,
    item: tablet,
    said: entry,
    after: [],
    tablet,
    by,
    atWallMs,
  } as const;
  const kept = await keepFact(journal, asFact(fact), o.epoch);
  return kept.ok ? ok(entry) : err(kept.error);
}

/** The hashes of revisions whose confirmation the log vouches for, with the place of the entry in it. */
export function vouchedHashes(entries: readonly ReadEntry[]): ReadonlyMap<string, number> {
  return new Map(
    entries.flatMap((e, at): [string, number][] =>
      e.deed === 'confirmed' && e.vouches ? [[String(e.values['hash']), at]] : [],
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

/** The log as a file that others can check. */
export function leadLogText(log: LeadLog): string {
  const { broken } = log;
  const entries = log.entries.map(({ vouches: _, desk: __, ...entry }) => entry);
  return `${JSON.stringify({ format: 'lutewatch-lead-log', formatVersion: 1, entries, broken }, null, 2)}\n`;
}
