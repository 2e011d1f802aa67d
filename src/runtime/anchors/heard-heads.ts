/**
 * Keeps the highest head that was heard of each case from each tablet of the clinic, one small document a case,
 * and holds the cases that are here against them.
 */

import * as v from 'valibot';
import { oneByOne } from '../../base/one-by-one.ts';
import { type Anchorage, headStatement } from '../../export/anchor.ts';
import { parsedOr } from '../../protocol/read-outside.ts';
import type { Journal } from '../../storage/journal-types.ts';
import { isSignedBy, type SigningCrypto } from '../../storage/signatures.ts';
import type { Members } from '../../sync/sealed-types.ts';
import { goingOn, readSecondEnds } from '../cases/second-ends.ts';
import type { Fact } from '../facts/fact.ts';
import {
  type BrokenChain,
  type BrokenKind,
  besideEarlier,
  type HeardHead,
  judgeEnd,
  judgeHead,
} from './broken-chains.ts';
import { anchorOf, isLogHead } from './head-facts.ts';

/** Kind of the documents; the id is that of the case. */
export const HEAD_HEARD = 'head-heard';
/** Cases whose heads are told to others, those heard last: as many as may run in a clinic at a time, and more. */
const TOLD_MAX = 20;

const count = v.pipe(v.number(), v.safeInteger(), v.minValue(1));

const keptSchema = v.object({
  /** The highest of each tablet. */
  heads: v.array(
    v.object({
      id: v.string(),
      device: v.string(),
      entries: count,
      head: v.string(),
      atWallMs: v.number(),
    }),
  ),
  /** By other tablet: how many entries it said it knows a head of. */
  knownTo: v.record(v.string(), count),
  /** What a head showed by itself, whatever the entries are. */
  against: v.array(
    v.object({
      kind: v.picklist(['differs', 'stepped-back', 'forged-head']),
      device: v.string(),
      named: count,
    }),
  ),
});

type Kept = v.InferOutput<typeof keptSchema>;

const NOTHING: Kept = { heads: [], knownTo: {}, against: [] };

/** What is known of the heads of a case; null while none has left the tablet. */
export async function anchorageOf(
  journal: Pick<Journal, 'documents'>,
  caseId: string,
): Promise<Anchorage | null> {
  const read = await journal.documents.get(HEAD_HEARD, { id: caseId });
  const kept = read.ok ? parsedOr(keptSchema, read.value) : null;
  const highest = kept?.heads.toSorted((a, b) => b.entries - a.entries)[0];
  if (!kept || highest === undefined) return null;
  const { entries, atWallMs, device } = highest;
  const others = Object.entries(kept.knownTo).filter(
    ([other, known]) => other !== device && known >= entries,
  );
  return { entries, atWallMs, knownTo: others.length };
}

/** A head, and the tablet that sent it. */
export interface CameHead {
  readonly fact: Fact;
  readonly device: string;
}

export interface HeardHeadsParts {
  readonly journal: Pick<Journal, 'documents' | 'read' | 'listCases' | 'listTombstones'>;
  readonly crypto: SigningCrypto;
  /** The writer's epoch; null while another window writes. */
  readonly epoch: () => number | null;
  readonly members: () => Members;
  /** This tablet, as the clinic knows it. */
  readonly device: () => string;
  /** Whether messages of the case came that could not be opened yet. */
  readonly isWaiting: (caseId: string) => Promise<boolean>;
  /** The ends of cases whose entries lie on the store alone: of one, or of all. */
  readonly atStore?: (caseId?: string) => Promise<ReadonlyMap<string, CaseEnd>>;
  readonly onChange: (broken: readonly BrokenChain[]) => void;
}

interface CaseEnd {
  readonly entries: number;
  readonly head: string;
}

export class HeardHeads {
  readonly #parts: HeardHeadsParts;
  readonly #kept = new Map<string, Kept>();
  readonly #broken = new Map<string, readonly BrokenChain[]>();
  /** Cases with a head that was heard since the store was last read to its end. */
  readonly #heardSince = new Set<string>();
  /** Those heard last stand last. */
  readonly #lately = new Set<string>();
  /** Changed, and not kept yet. */
  readonly #isSet = new Set<string>();
  /** One after the other: two that change one document at once would lose one change. */
  readonly #inLine = oneByOne();

  constructor(parts: HeardHeadsParts) {
    this.#parts = parts;
  }

  /** Reads what was kept, and looks at the cases that are here. Nothing is called cut before the store was read. */
  start(): Promise<void> {
    return this.#inLine(async () => {
      const { documents } = this.#parts.journal;
      const listed = await documents.list(HEAD_HEARD);
      for (const { id, value } of listed.ok ? listed.value : []) {
        const kept = parsedOr(keptSchema, value);
        if (kept === null) continue;
        this.#kept.set(id, kept);
        this.#heardSince.add(id);
      }
      await this.#judgeAll();
    });
  }

  /** Heads came, each from a tablet of the clinic. What they show is told once all are kept. */
  hear(came: readonly CameHead[]): Promise<void> {
    return this.#inLine(async () => {
      for (const each of came) await this.#hear(each);
      await this.#settle();
    });
  }

  async #hear({ fact, device }: CameHead): Promise<void> {
    const anchor = isLogHead(fact) ? null : anchorOf(fact);
    if (anchor === null) return;
    const { entries, head, signed } = anchor;
    const { id, item: caseId, atWallMs, after } = fact;
    const text = headStatement({ caseId, entries, head });
    const { crypto, members } = this.#parts;
    const isOwnKey = signed?.publicKey === members().get(device)?.signingKey;
    const isSigned = signed !== null && isOwnKey && (await isSignedBy(crypto, { ...signed, text }));
    if (isSigned === true) this.#take(caseId, { id, device, entries, head, atWallMs }, after);
    else this.#against(caseId, { kind: 'forged-head', device, named: entries });
  }

  /** A head of this tablet is in the store. */
  left(fact: Fact): Promise<void> {
    return this.#inLine(async () => {
      const anchor = anchorOf(fact);
      if (anchor === null) return;
      const { id, item, atWallMs, after } = fact;
      const { entries, head } = anchor;
      const device = this.#parts.device();
      this.#take(item, { id, device, entries, head, atWallMs }, after);
      await this.#settle();
    });
  }

  #take(caseId: string, came: HeardHead, after: readonly string[]): void {
    const kept = this.#kept.get(caseId) ?? NOTHING;
    const earlier = kept.heads.find(({ device }) => device === came.device);
    const verdict = besideEarlier(earlier, { ...came, after });
    this.#lately.delete(caseId);
    this.#lately.add(caseId);
    if (verdict === 'known') return;
    if (verdict !== 'newer') {
      this.#against(caseId, { kind: verdict, device: came.device, named: came.entries });
      return;
    }
    this.#heardSince.add(caseId);
    const others = kept.heads.filter(({ device }) => device !== came.device);
    const isOther = came.device !== this.#parts.device();
    const knownTo = isOther ? { ...kept.knownTo, [came.device]: came.entries } : kept.knownTo;
    this.#set(caseId, { ...kept, heads: [...others, came], knownTo });
  }

  #against(caseId: string, found: Kept['against'][number]): void {
    const kept = this.#kept.get(caseId) ?? NOTHING;
    const isKnown = kept.against.some((a) => a.kind === found.kind && a.device === found.device);
    if (!isKnown) this.#set(caseId, { ...kept, against: [...kept.against, found] });
  }

  /** What a tablet that is here says it knows of the heads of cases. */
  knownBy(device: string, heads: Readonly<Record<string, number>>): Promise<void> {
    return this.#inLine(async () => {
      for (const [caseId, entries] of Object.entries(heads)) {
        const kept = this.#kept.get(caseId);
        if (kept === undefined || (kept.knownTo[device] ?? 0) >= entries) continue;
        this.#set(caseId, { ...kept, knownTo: { ...kept.knownTo, [device]: entries } });
      }
      await this.#keepSet();
    });
  }

  /** What this tablet knows, of the cases heard of last: entries of the highest head, by case. */
  get known(): Readonly<Record<string, number>> {
    const told = [...this.#lately].slice(-TOLD_MAX).map((caseId) => {
      const heads = this.#kept.get(caseId)?.heads ?? [];
      return [caseId, Math.max(0, ...heads.map(({ entries }) => entries))] as const;
    });
    return Object.fromEntries(told.filter(([, entries]) => entries > 0));
  }

  /** Entries of a case came, or it was deleted. */
  changed(caseId: string): Promise<void> {
    return this.#inLine(async () => {
      if (!this.#kept.has(caseId)) return;
      await this.#judge(caseId);
      this.#tell();
    });
  }

  /** The whole store was read: what is missing now does not come by itself. */
  wasRead(): Promise<void> {
    return this.#inLine(async () => {
      const cases = [...this.#heardSince];
      this.#heardSince.clear();
      for (const caseId of cases) await this.#judge(caseId);
      this.#tell();
    });
  }

  /** A summary is enough for a case that ends at its head; the others are read. */
  async #judgeAll(): Promise<void> {
    const cases = await this.#parts.journal.listCases();
    const summaries = new Map<string, CaseEnd>(await this.#parts.atStore?.());
    for (const each of cases.ok ? cases.value : []) summaries.set(each.caseId, each);
    for (const [caseId, { heads, against }] of this.#kept) {
      const summary = summaries.get(caseId);
      const isWhole = heads.every(
        ({ entries, head }) => entries === summary?.entries && head === summary.head,
      );
      if (!isWhole || against.length > 0) await this.#judge(caseId);
    }
    this.#tell();
  }

  async #judge(caseId: string): Promise<void> {
    const { journal, isWaiting } = this.#parts;
    const known = this.#kept.get(caseId) ?? NOTHING;
    const read = await journal.read(caseId);
    if (!read.ok) return;
    const kept = await readSecondEnds(journal, caseId);
    // Heads of the end that goes on hold there, whichever end stands in this journal.
    const { reading, secondEnds: ends } = goingOn(read.value, kept.ok ? kept.value : []);
    const { entries } = reading;
    if (entries.length === 0 && (await this.#wasDeleted(caseId))) {
      this.#broken.delete(caseId);
      return;
    }
    const end = entries.length === 0 ? await this.#endAtStore(caseId) : undefined;
    const here = end?.entries ?? entries.length;
    const isReadSince = !(this.#heardSince.has(caseId) || (await isWaiting(caseId)));
    const found = known.heads.flatMap((head): BrokenChain[] => {
      const kind: BrokenKind | null =
        end === undefined
          ? judgeHead(entries, head, { isReadSince, ends })
          : judgeEnd(end, head, { isReadSince });
      return kind === null
        ? []
        : [{ caseId, kind, device: head.device, named: head.entries, here }];
    });
    const against = known.against.map((each) => ({ caseId, here, ...each }));
    this.#broken.set(caseId, [...found, ...against]);
  }

  async #endAtStore(caseId: string): Promise<CaseEnd | undefined> {
    return (await this.#parts.atStore?.(caseId))?.get(caseId);
  }

  async #wasDeleted(caseId: string): Promise<boolean> {
    const listed = await this.#parts.journal.listTombstones();
    return listed.ok && listed.value.some((tombstone) => tombstone.caseId === caseId);
  }

  #set(caseId: string, kept: Kept): void {
    this.#kept.set(caseId, kept);
    this.#isSet.add(caseId);
  }

  /** Keeps what was changed, and looks at those cases anew. */
  async #settle(): Promise<void> {
    const cases = [...this.#isSet];
    await this.#keepSet();
    for (const caseId of cases) await this.#judge(caseId);
    if (cases.length > 0) this.#tell();
  }

  async #keepSet(): Promise<void> {
    const epoch = this.#parts.epoch();
    if (epoch === null) return;
    for (const id of this.#isSet) {
      const value = this.#kept.get(id);
      await this.#parts.journal.documents.put({ kind: HEAD_HEARD, id, value, epoch });
    }
    this.#isSet.clear();
  }

  #tell(): void {
    this.#parts.onChange([...this.#broken.values()].flat());
  }
}
