/**
 * Two different entries at one place of a case: what does not follow on this tablet's chain is kept apart as a
 * second end, and never merged. The end in which the pen was taken goes on; the other one stays readable.
 */
import * as v from 'valibot';
import { ok } from '../../base/result.ts';
import type { SecondEnd } from '../../export/export-source.ts';
import { parsedOr } from '../../protocol/read-outside.ts';
import { CHAIN_START, pointAfter, verifyChain } from '../../storage/hash-chain.ts';
import type {
  CaseReading,
  Journal,
  JournalEntry,
  JournalResult,
} from '../../storage/journal-types.ts';
import { entrySchema } from '../../storage/parse-stored.ts';
import { SECOND_END } from './second-end-kind.ts';

/** What the lists know of a second end. */
export interface SecondEndRow {
  readonly caseId: string;
  readonly tablet: string;
  readonly name: string | null;
  readonly presses: number;
  /** The pen was taken in that end. */
  readonly hasPen: boolean;
  /** Its tablet did not hold the pen where it begins. */
  readonly withoutPen?: true;
}

export interface KeptEnd extends SecondEnd {
  readonly caseId: string;
  /** From the first entry that is another one than that of the chain; each follows on the one before. */
  readonly entries: readonly JournalEntry[];
}

const endSchema = v.object({
  caseId: v.string(),
  tablet: v.string(),
  name: v.nullable(v.string()),
  entries: v.pipe(v.array(entrySchema), v.minLength(1)),
  withoutPen: v.exactOptional(v.literal(true)),
});

type Documents = Pick<Journal, 'documents'>;

/** Every second end that is kept here, or those of one case. Errors: the journal's. */
export async function readSecondEnds(
  { documents }: Documents,
  caseId?: string,
): JournalResult<readonly KeptEnd[]> {
  const listed = await documents.list(SECOND_END);
  if (!listed.ok) return listed;
  const ends = listed.value.flatMap(({ value }) => parsedOr(endSchema, value) ?? []);
  return ok(caseId === undefined ? ends : ends.filter((end) => end.caseId === caseId));
}

/** A chain with what follows on its last entry, or on one inside it; null where nothing does. */
function extended(
  end: readonly JournalEntry[],
  more: readonly JournalEntry[],
): readonly JournalEntry[] | null {
  const known = new Set(end.map(({ hash }) => hash));
  const fresh = more.filter(({ hash }) => !known.has(hash));
  const [first] = fresh;
  if (first === undefined) return end;
  return first.prev === end.at(-1)?.hash ? [...end, ...fresh] : null;
}

/**
 * Keeps entries that do not follow on this tablet's chain, in their order, each following on the one before;
 * what it has of that end already is not kept twice. Errors: the journal's. Ok: whether there was more of it.
 */
export async function keepSecondEnd(
  { journal, epoch }: { readonly journal: Documents; readonly epoch: number },
  end: KeptEnd,
): JournalResult<{ readonly isMore: boolean }> {
  const kept = await readSecondEnds(journal, end.caseId);
  if (!kept.ok) return kept;
  for (const before of kept.value) {
    const entries = extended(before.entries, end.entries);
    if (entries === null) continue;
    const isSame = before.entries[0]?.hash === end.entries[0]?.hash;
    // Who had the pen may be known better now: then the word of this time counts.
    const of = isSame ? end : before;
    const isToldSo = of.withoutPen === before.withoutPen && of.tablet === before.tablet;
    if (entries === before.entries && isToldSo) return ok({ isMore: false });
    return put({ journal, epoch }, { ...of, entries });
  }
  return put({ journal, epoch }, end);
}

const idOf = ({ caseId, entries }: KeptEnd): string =>
  `${caseId}.${entries[0]?.hash.slice(0, 16) ?? ''}`;

/** Forgets one that is none any more. Errors: the journal's. */
export function dropSecondEnd(
  { journal, epoch }: { readonly journal: Documents; readonly epoch: number },
  end: KeptEnd,
) {
  return journal.documents.delete({ kind: SECOND_END, id: idOf(end), epoch });
}

async function put(
  { journal, epoch }: { readonly journal: Documents; readonly epoch: number },
  end: KeptEnd,
): JournalResult<{ readonly isMore: boolean }> {
  const id = idOf(end);
  const value = { caseId: end.caseId, ...asEnd(end) };
  const stored = await journal.documents.put({ kind: SECOND_END, id, value, epoch });
  return stored.ok ? ok({ isMore: true }) : stored;
}

const countPresses = (entries: readonly JournalEntry[]): number =>
  new Set(entries.map(({ press }) => press)).size;

export function secondEndRows(ends: readonly KeptEnd[]): readonly SecondEndRow[] {
  return ends.map(({ caseId, tablet, name, entries, withoutPen }) => ({
    caseId,
    tablet,
    name,
    presses: countPresses(entries),
    hasPen: !withoutPen && entries.some(({ event }) => event.type === 'pen-taken'),
    ...(withoutPen && { withoutPen }),
  }));
}

/** How much an end has of the pen where it parts from another: the same on every tablet. */
function claim(first: JournalEntry): readonly [number, string] {
  const { event, hash } = first;
  if (event.type !== 'pen-taken') return [0, ''];
  return [event.from === 'gone' ? 1 : 2, hash];
}

/** Whether one end was taken by somebody who knew of the other, and went on in its place. */
function isTakenOver(end: readonly JournalEntry[], other: readonly JournalEntry[]): boolean {
  const hashes = new Set(other.map(({ hash }) => hash));
  return end.some(
    ({ event }) => event.type === 'pen-taken' && event.over !== undefined && hashes.has(event.over),
  );
}

function goesOnBefore(end: readonly JournalEntry[], other: readonly JournalEntry[]): boolean {
  const [a, b] = [end[0], other[0]];
  if (a === undefined) return false;
  if (isTakenOver(end, other)) return true;
  if (isTakenOver(other, end)) return false;
  const [ofA, hashA] = claim(a);
  const [ofB, hashB] = b === undefined ? [-1, ''] : claim(b);
  if (ofA === 0) return false;
  return ofA === ofB ? hashA < hashB : ofA > ofB;
}

/** A second end as the forms of a record have it. */
export const asEnd = ({ tablet, name, entries, withoutPen }: SecondEnd): SecondEnd => ({
  tablet,
  name,
  entries,
  ...(withoutPen && { withoutPen }),
});

const THIS_END = { tablet: '', name: null } as const;

/** Who pressed the rest of a chain: the tablet that took the pen last before it, else the one that opened it. */
function presserOf(
  entries: readonly JournalEntry[],
  at: number,
): Pick<SecondEnd, 'tablet' | 'name'> {
  const upTo = entries.slice(0, at + 1).toReversed();
  for (const { event } of upTo) {
    if (event.type === 'pen-taken') return { tablet: event.tablet, name: event.name };
    if (event.type === 'case-opened') return { tablet: event.tablet ?? '', name: null };
  }
  return THIS_END;
}

/**
 * The case as it goes on, and what is kept apart of it. Where the pen was taken in a second end, that end stands
 * in the place of what this tablet's chain has from there on.
 */
export function goingOn(
  reading: CaseReading,
  kept: readonly KeptEnd[],
): { readonly reading: CaseReading; readonly secondEnds: readonly SecondEnd[] } {
  let main = reading;
  const apart: SecondEnd[] = [];
  for (const end of kept) {
    const [first] = end.entries;
    if (first === undefined || first.prev !== main.entries[first.seq - 1]?.hash) {
      apart.push(asEnd(end));
      continue;
    }
    const rest = main.entries.slice(first.seq);
    const common = main.entries.slice(0, first.seq);
    const last = common.at(-1);
    const holds = verifyChain(end.entries, last ? pointAfter(last) : CHAIN_START).firstBad === null;
    if (end.withoutPen || !holds || !goesOnBefore(end.entries, rest)) {
      apart.push(asEnd(end));
      continue;
    }
    if (rest.length > 0) {
      apart.push({ ...presserOf(main.entries, first.seq), entries: rest });
    }
    const entries = [...common, ...end.entries];
    const verdict = { goodCount: entries.length, firstBad: null };
    main = { ...main, entries, verdict };
  }
  return { reading: main, secondEnds: apart };
}
