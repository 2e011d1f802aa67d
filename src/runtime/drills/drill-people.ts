/**
 * The people of the drills that are kept here: the pair of this sitting, with whom somebody practised, and who lets others
 * see what they practised. Names are shown to those who give theirs, and to others only of who shares.
 */
import { NAME_LENGTH_MAX } from '../../base/caps.ts';
import { type Problem, problem } from '../../base/problem.ts';
import { err, ok, type Result } from '../../base/result.ts';
import { isIn, type Pair, pairKey, pairOf, partnerOf } from '../../drill/pair.ts';
import { KINDS } from '../../drill/readiness.ts';
import type { Stamp } from '../../engine/types.ts';
import { hasAgreed } from '../../outcomes/agreements.ts';
import type { Agreement } from '../../outcomes/review-types.ts';
import type { Mishap } from '../../protocol/types.ts';
import type { Journal } from '../../storage/journal-types.ts';
import type { FactParts } from '../facts/fact-writer.ts';
import { type DrillsSigned, drillsSigned } from '../lead/drill-desk.ts';
import { readLeadLogs } from '../lead/lead-log.ts';
import { readAgreed, sayAgreed } from '../outcomes/agreements.ts';
import { DRILL, type KeptDrill } from './drill-document.ts';

/** The names are forgotten after so long without a drill: others may stand there by then. A choice. */
const SITTING_MS = 2 * 3_600_000;

/** The pair of this sitting, in the memory of this window alone. */
export class Sitting {
  readonly #now: () => Stamp;
  #named: { readonly pair: Pair; readonly at: Stamp } | null = null;

  constructor(now: () => Stamp) {
    this.#now = now;
  }

  get pair(): Pair | null {
    if (this.#named === null) return null;
    const { pair, at } = this.#named;
    const now = this.#now();
    const passedMs = Math.max(now.monoMs - at.monoMs, now.wallMs - at.wallMs);
    if (passedMs < SITTING_MS) return pair;
    this.#named = null;
    return null;
  }

  name(pair: Pair | null): void {
    this.#named = pair === null ? null : { pair, at: this.#now() };
  }
}

/** Names as they are kept; null where nobody is named. Error: `too-long`. */
export function namedPair(names: Pair): Result<Pair | null, Problem> {
  const pair = pairOf(names);
  const long = [pair?.lead ?? '', pair?.assists ?? ''].find((n) => n.length > NAME_LENGTH_MAX);
  if (long === undefined) return ok(pair);
  return err(problem('pair', `at most ${NAME_LENGTH_MAX} characters`, long, 'too-long'));
}

/** The pairs in which somebody practised, by the name of the other. */
export function pairsWith(person: string, kept: readonly KeptDrill[]): readonly Pair[] {
  const found = new Map<string, Pair>();
  for (const { pair } of kept) {
    if (pair !== undefined && isIn(person, pair)) found.set(pairKey(pair), pair);
  }
  const other = (pair: Pair): string => partnerOf(person, pair);
  return [...found.values()].toSorted((a, b) => (other(a) < other(b) ? -1 : 1));
}

/** The kinds that somebody practised at least once, in the order of kinds. */
export function kindsOf(person: string, kept: readonly KeptDrill[]): readonly Mishap[] {
  const own = kept.filter(
    ({ pair, again }) => again === undefined && pair !== undefined && isIn(person, pair),
  );
  const met = new Set(own.flatMap(({ kinds }) => kinds.map(({ mishap }) => mishap)));
  return KINDS.filter((kind) => met.has(kind));
}

export interface SharedPractice {
  readonly person: string;
  readonly kinds: readonly Mishap[];
}

/** What this tablet knows of names. */
export interface DrillPeople {
  readonly signed: DrillsSigned | null;
  /** By name. Nobody while the lead has not signed. */
  readonly shared: readonly SharedPractice[];
}

type Reading = Pick<Journal, 'documents'>;

async function agreedToDrills(journal: Reading): Promise<readonly Agreement[]> {
  const agreed = await readAgreed(journal);
  return agreed.ok ? agreed.value.filter(({ to }) => to === 'drills') : [];
}

/** Errors: the journal's. */
async function readSigned(journal: Reading): Promise<Result<DrillsSigned | null, Problem>> {
  const logs = await readLeadLogs(journal);
  return logs.ok ? ok(drillsSigned(logs.value.log)) : logs;
}

export async function readDrillPeople(
  journal: Reading,
  kept: readonly KeptDrill[],
): Promise<DrillPeople> {
  const [signed, agreed] = await Promise.all([readSigned(journal), agreedToDrills(journal)]);
  if (!signed.ok || signed.value === null) return { signed: null, shared: [] };
  const shared = agreed.map(({ person }) => ({ person, kinds: kindsOf(person, kept) }));
  return { signed: signed.value, shared };
}

/** Whether somebody shares, also while the lead has not signed. */
export const isSharing = async (journal: Reading, person: string): Promise<boolean> =>
  hasAgreed(await agreedToDrills(journal), { person, to: 'drills' });

/** Shares, or withdraws it. Nobody can share before the lead has signed. Errors: `not-signed`, `empty`, `too-long`, `not-writer`, the journal's. */
export async function share(
  parts: FactParts,
  o: { readonly person: string; readonly isShared: boolean; readonly onDay: string },
): Promise<Result<null, Problem>> {
  const { person, isShared: isAgreed, onDay } = o;
  const signed = await readSigned(parts.journal);
  if (!signed.ok) return signed;
  if (isAgreed && signed.value === null) {
    return err(problem('drills', 'the signature of the lead', 'none', 'not-signed'));
  }
  return sayAgreed(parts, { person, to: 'drills', isAgreed, onDay });
}

/** Takes the names out of every drill that somebody did. Answers with how many. Errors: the journal's. */
export async function unname(
  { journal, epoch }: { readonly journal: Journal; readonly epoch: number },
  o: { readonly person: string; readonly kept: readonly KeptDrill[] },
): Promise<Result<number, Problem>> {
  const own = o.kept.filter(({ pair }) => pair !== undefined && isIn(o.person, pair));
  for (const { pair: _, ...value } of own) {
    const put = await journal.documents.put({ kind: DRILL, id: value.caseId, value, epoch });
    if (!put.ok) return put;
  }
  return ok(own.length);
}
