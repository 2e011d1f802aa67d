/**
 * Puts one case together again from what both homes hold of it. The chain decides: an entry takes its
 * place only where it links to the one before and its own hash holds. The database goes first; what
 * the file fills or replaces there is set apart, and what fits nowhere is kept.
 */
import { err, ok } from '../base/result.ts';
import { summarise } from './case-summary.ts';
import { putApart } from './database-entries.ts';
import {
  fence,
  refuseDeleted,
  strictly,
  type Writing,
  wholeCase,
} from './database-transactions.ts';
import { CHAIN_START, type ChainPoint, checkEntry, pointAfter } from './hash-chain.ts';
import type { CaseHead } from './heads.ts';
import { refuse } from './journal-problem.ts';
import type {
  CaseDamage,
  CaseSummary,
  JournalEntry,
  JournalResult,
  SetApart,
} from './journal-types.ts';
import type { JournalDatabase } from './migrations.ts';
import { parseEntry } from './parse-stored.ts';

interface Mended {
  /** Entries that the file gave to the database. */
  readonly filled: number;
  /** Entries of the file that fit nowhere. */
  readonly conflicts: number;
  /** What is still missing; null when the case is whole. */
  readonly damage: CaseDamage | null;
}

const NOTHING: Mended = { filled: 0, conflicts: 0, damage: null };

/** What the two homes hold of a case, as found. */
interface Found {
  readonly caseId: string;
  readonly stored: readonly JournalEntry[];
  readonly inFile: readonly JournalEntry[];
  readonly before: CaseSummary | null;
}

/** Mends a case in one transaction. `known` is what another place remembers of it. */
export function mendCase(
  database: JournalDatabase,
  o: {
    readonly caseId: string;
    readonly inFile: readonly JournalEntry[];
    readonly known: CaseHead | null;
  },
): Promise<Mended> {
  const { caseId, inFile, known } = o;
  return strictly(database, async (writing) => {
    if ((await refuseDeleted(writing, caseId)) !== null) return NOTHING;
    const [stored, before = null] = await Promise.all([
      writing.objectStore('entries').getAll(wholeCase(caseId)),
      writing.objectStore('cases').get(caseId),
    ]);
    const found = { caseId, stored, inFile, before };
    const chain = bestChain(found);
    const filled = await fill(writing, { chain, found });
    const unlinked = await keepUnlinked(writing, { chain, found });
    const summary = summaryOf(chain, found);
    if (summary !== null) await writing.objectStore('cases').put(summary);
    return {
      filled,
      conflicts: unlinked,
      damage: damageOf(chain, { found, known, summary, unlinked }),
    };
  });
}

/** The chain from the start, as far as entries link: the database's own first, then those of the file. */
function bestChain({ caseId, stored, inFile }: Found): readonly JournalEntry[] {
  const chain: JournalEntry[] = [];
  const own = new Map(stored.map((entry) => [entry.seq, entry]));
  const others = new Map<number, JournalEntry[]>();
  for (const entry of inFile) others.set(entry.seq, [...(others.get(entry.seq) ?? []), entry]);
  let point: ChainPoint = { ...CHAIN_START, caseId };
  for (;;) {
    const at = point;
    const there = [own.get(at.seq), ...(others.get(at.seq) ?? [])];
    const next = there.find((entry) => entry !== undefined && checkEntry(entry, at) === null);
    if (next === undefined) return chain;
    chain.push(next);
    point = pointAfter(next);
  }
}

async function fill(
  writing: Writing,
  { chain, found }: { chain: readonly JournalEntry[]; found: Found },
): Promise<number> {
  const { caseId, stored } = found;
  const own = new Map(stored.map((entry) => [entry.seq, entry]));
  let filled = 0;
  for (const entry of chain) {
    const content = own.get(entry.seq);
    if (content === entry) continue;
    const damaged = { from: 'database', reason: 'damaged', caseId, seq: entry.seq } as const;
    if (content !== undefined) await putApart(writing, { ...damaged, content });
    await writing.objectStore('entries').put(entry);
    filled += 1;
  }
  return filled;
}

/** Sets apart what the file holds and the case does not. Returns how many that are. */
async function keepUnlinked(
  writing: Writing,
  { chain, found }: { chain: readonly JournalEntry[]; found: Found },
): Promise<number> {
  const { caseId, stored, inFile } = found;
  const kept = new Set([...chain, ...stored].map((entry) => entry.hash));
  let unlinked = 0;
  for (const content of inFile) {
    if (kept.has(content.hash)) continue;
    kept.add(content.hash);
    const { seq } = content;
    const reason = seq < chain.length ? 'conflict' : 'unlinked';
    const apart: SetApart = { from: 'file', reason, caseId, seq, content };
    await putApart(writing, apart);
    unlinked += 1;
  }
  return unlinked;
}

/** Behind a break the summary goes on to tell of everything that the case had. */
function summaryOf(chain: readonly JournalEntry[], { stored, before }: Found): CaseSummary | null {
  const behind = stored.flatMap((entry) => {
    const parsed = entry.seq >= chain.length ? parseEntry(entry) : null;
    return parsed === null ? [] : [parsed];
  });
  const all = [...chain, ...behind];
  if (all.length === 0) return before;
  // What the list shows of a case comes from its opening, or from before that was lost.
  const made = summarise(chain.length === 0 ? before : null, all);
  return before !== null && before.entries > made.entries ? before : made;
}

function damageOf(
  chain: readonly JournalEntry[],
  o: { found: Found; known: CaseHead | null; summary: CaseSummary | null; unlinked: number },
): CaseDamage | null {
  const { found, known, summary, unlinked } = o;
  const last = found.inFile.toSorted((a, b) => a.seq - b.seq).at(-1);
  const heads = [
    { entries: chain.length, head: chain.at(-1)?.hash ?? '' },
    ...(summary === null ? [] : [summary]),
    ...(last === undefined ? [] : [{ entries: last.seq + 1, head: last.hash }]),
    ...(known === null ? [] : [known]),
  ];
  const most = heads.reduce((a, b) => (b.entries > a.entries ? b : a));
  if (most.entries <= chain.length) return null;
  const behind = found.stored.filter((entry) => entry.seq >= chain.length).length;
  const named = summary === null || summary.title === '' ? (known ?? summary) : summary;
  return {
    caseId: found.caseId,
    title: named?.title ?? '',
    chartRef: named?.chartRef ?? '',
    known: most.entries,
    head: most.head,
    left: chain.length,
    apart: behind + unlinked,
  };
}

/**
 * Sets apart what lies behind the break of a case, so that its next press follows on what holds.
 * Refused with `stale-epoch`, `case-deleted`, and with `no-such-case` where nothing holds.
 */
export function settleCase(
  database: JournalDatabase,
  { caseId, epoch }: { readonly caseId: string; readonly epoch: number },
): JournalResult<null> {
  return strictly(database, async (writing) => {
    const refusal = (await fence(writing, epoch)) ?? (await refuseDeleted(writing, caseId));
    if (refusal !== null) return err(refusal);
    const store = writing.objectStore('entries');
    const stored = await store.getAll(wholeCase(caseId));
    const chain = bestChain({ caseId, stored, inFile: [], before: null });
    if (chain.length === 0) {
      const place = `journal.cases.${caseId}`;
      return refuse('no-such-case', { place, expected: 'an entry that holds', came: 'none' });
    }
    for (const content of stored.slice(chain.length)) {
      const { seq } = content;
      await putApart(writing, { from: 'database', reason: 'behind-break', caseId, seq, content });
      await store.delete([caseId, seq]);
    }
    await writing.objectStore('cases').put(summarise(null, chain));
    return ok(null);
  });
}
