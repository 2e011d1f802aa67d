/**
 * Heads of cases: once a case is closed, a fact says how many entries it has and which is the last, signed by
 * this tablet. Facts go into every backup and to every tablet that restores one, so that a case which is cut
 * at its end later is known for what it is, here and elsewhere.
 */

import type { AnchorFact } from '../../export/anchor.ts';
import { type AnchorState, headStatement, judgeAnchor } from '../../export/anchor.ts';
import type { ExportEntry } from '../../export/export-source.ts';
import type { CaseSummary, Journal } from '../../storage/journal-types.ts';
import { openTabletKeys } from '../../storage/key-store.ts';
import {
  isSignedBy,
  type SigningCrypto,
  signText,
  type TabletKeys,
} from '../../storage/signatures.ts';
import type { Clock } from '../device/clock.ts';
import { asFact, type Fact, keepFact, listFacts } from '../facts/fact.ts';
import { headsOf } from '../facts/fact-history.ts';
import { readThisTablet } from '../facts/this-tablet.ts';
import { ownLogHead } from '../lead/lead-log.ts';
import { anchorOf, HEAD, logItem } from './head-facts.ts';

/** At most so many at a time, newest first: the rest at the next. A design choice of this project. */
const AT_ONCE_MAX = 200;

type Own = Pick<HeadParts, 'crypto' | 'keys'> & { readonly tablet: string };

/** Whether this tablet made a head: its key says so, or without keys its name. */
async function isOwnHead(fact: Fact, { crypto, keys, tablet }: Own): Promise<boolean> {
  const anchor = anchorOf(fact);
  if (anchor === null) return false;
  const { entries, head, signed } = anchor;
  if (!crypto || !keys) return signed === null && fact.tablet === tablet;
  if (signed === null || signed.publicKey !== keys.publicKey) return false;
  const text = headStatement({ caseId: fact.item, entries, head });
  // Where this browser cannot tell, the key is named and nothing speaks against it.
  return (await isSignedBy(crypto, { ...signed, text })) !== false;
}

/** By item: the most entries that a head of this tablet knew. What others say keeps it from nothing. */
async function ownLengths(facts: readonly Fact[], own: Own): Promise<ReadonlyMap<string, number>> {
  const known = new Map<string, number>();
  for (const fact of facts) {
    const entries = anchorOf(fact)?.entries ?? 0;
    if (entries <= (known.get(fact.item) ?? 0)) continue;
    if (await isOwnHead(fact, own)) known.set(fact.item, entries);
  }
  return known;
}

/** Closed cases of which no own head of this length or more is known: one that was cut gets no new one. */
const wanting = (
  cases: readonly CaseSummary[],
  known: ReadonlyMap<string, number>,
): readonly CaseSummary[] =>
  cases
    .filter((c) => c.closedByPress !== null && c.mode === 'patient')
    .filter((c) => c.entries > (known.get(c.caseId) ?? 0))
    .toSorted((a, b) => b.lastStamp.wallMs - a.lastStamp.wallMs)
    .slice(0, AT_ONCE_MAX);

let ownKeys: Promise<TabletKeys | null> | null = null;

/** The keys of this tablet, opened once. */
export function tabletKeys(crypto: SigningCrypto | null): Promise<TabletKeys | null> {
  if (crypto === null) return Promise.resolve(null);
  ownKeys ??= openTabletKeys(crypto).then((keys) => {
    // What could not be opened now may open the next time.
    if (keys === null) ownKeys = null;
    return keys;
  });
  return ownKeys;
}

interface Head {
  readonly item: string;
  readonly entries: number;
  readonly head: string;
}

interface HeadParts {
  readonly journal: Journal;
  readonly crypto: SigningCrypto | null;
  readonly keys: TabletKeys | null;
  readonly epoch: number;
  readonly nowWallMs: number;
}

/** Anchors every closed case of a patient that has no own anchor yet, and the log of this tablet's desk. What cannot be kept now is kept the next time. */
export async function anchorHeads(parts: HeadParts): Promise<void> {
  const { journal, crypto, keys, epoch, nowWallMs } = parts;
  const [cases, listed, own] = await Promise.all([
    journal.listCases(),
    listFacts(journal, HEAD),
    readThisTablet(journal),
  ]);
  if (!cases.ok || !listed.ok || !own.ok) return;
  const { facts } = listed.value;
  const { tablet } = own.value;
  const log = await ownLogHead(journal);
  const known = await ownLengths(facts, { crypto, keys, tablet });
  const isLogAhead = log !== null && log.entries > (known.get(logItem(tablet)) ?? 0);
  const heads: readonly Head[] = [
    ...wanting(cases.value, known).map(({ caseId, entries, head }) => ({
      item: caseId,
      entries,
      head,
    })),
    ...(isLogAhead ? [{ item: logItem(tablet), ...log }] : []),
  ];
  for (const { item, entries, head } of heads) {
    const text = headStatement({ caseId: item, entries, head });
    const signed =
      crypto && keys
        ? { publicKey: keys.publicKey, signature: await signText(crypto, keys, text) }
        : null;
    const fact = asFact({
      kind: HEAD,
      item,
      said: { type: 'head', entries, head, signed },
      after: headsOf(facts.filter((each) => each.item === item)),
      tablet,
      by: null,
      atWallMs: nowWallMs,
    });
    const kept = await keepFact(journal, fact, epoch);
    if (!kept.ok) return;
  }
}

/** The same with the keys of this tablet; nothing in a window that only reads along. */
export async function anchorOwn(parts: {
  readonly journal: Journal;
  readonly crypto: SigningCrypto | null;
  readonly clock: Clock;
  readonly epoch: () => number | null;
}): Promise<void> {
  const { journal, crypto, clock } = parts;
  const epoch = parts.epoch();
  if (epoch === null) return;
  const keys = await tabletKeys(crypto);
  await anchorHeads({ journal, crypto, keys, epoch, nowWallMs: clock.stamp().wallMs });
}

const RANK: Readonly<Record<AnchorState, number>> = { cut: 0, differs: 1, holds: 2 };

/** The anchor that says most of a case, what does not hold before what does; null where none is known. */
export async function anchorOfCase(
  { journal, crypto }: Pick<HeadParts, 'journal' | 'crypto'>,
  o: { readonly caseId: string; readonly entries: readonly ExportEntry[] },
): Promise<AnchorFact | null> {
  const listed = await listFacts(journal, HEAD);
  if (!listed.ok) return null;
  const judged: AnchorFact[] = [];
  for (const fact of listed.value.facts.filter(({ item }) => item === o.caseId)) {
    const anchor = anchorOf(fact);
    if (anchor === null) continue;
    const { entries, head, signed } = anchor;
    const text = headStatement({ caseId: o.caseId, entries, head });
    const isSigned = crypto && signed && (await isSignedBy(crypto, { ...signed, text }));
    // What pretends to be signed says nothing.
    if (isSigned === false) continue;
    judged.push({
      ...{ entries, head, isSigned },
      publicKey: signed?.publicKey ?? null,
      signature: signed?.signature ?? null,
      state: judgeAnchor(o.entries, anchor),
    });
  }
  const [first] = judged.toSorted((a, b) => RANK[a.state] - RANK[b.state] || b.entries - a.entries);
  return first ?? null;
}
