/**
 * Puts entries that came in pieces behind what this tablet has of a case. A piece is taken where it
 * follows; what comes too early waits for what is before it; where another entry stands already, the two are
 * two ends of one case, and the piece is kept apart whole. Pure.
 */
import { mayWrite, PEN_START, penAfter } from '../../engine/pen.ts';
import type { PenPoint } from '../../engine/pen-types.ts';
import { CHAIN_START, verifyChain } from '../../storage/hash-chain.ts';
import type { JournalEntry } from '../../storage/journal-types.ts';
import { parseEntry } from '../../storage/parse-stored.ts';
import type { HeldEntries } from '../../sync/sharing-database.ts';

/** Entries of a case as one message had them, read. */
export interface Piece {
  readonly subject: string;
  readonly device: string;
  readonly at: number;
  readonly entries: readonly JournalEntry[];
  /** Where the store keeps it, where that is known. */
  readonly seq?: number;
}

/** The piece; null where it is none: its entries do not follow on one another, or are not as they were hashed. */
export function pieceOf(held: HeldEntries): Piece | null {
  const known = READ.get(held);
  if (known !== undefined) return known;
  const piece = readPiece(held);
  READ.set(held, piece);
  return piece;
}

/** Each is hashed once, however often it is looked at. */
const READ = new WeakMap<HeldEntries, Piece | null>();

function readPiece(held: HeldEntries): Piece | null {
  const entries = held.entries.flatMap((value) => parseEntry(value) ?? []);
  const [first] = entries;
  if (first === undefined || entries.length < held.entries.length) return null;
  const { caseId, at, subject, device, seq } = held;
  const from = at === 0 ? { ...CHAIN_START, caseId } : { caseId, seq: at, prev: first.prev };
  if (verifyChain(entries, from).firstBad !== null) return null;
  return { subject, device, at, entries, ...(seq !== undefined && { seq }) };
}

export interface Joined {
  /** Everything of the case that follows on one another, from its start. */
  readonly chain: readonly JournalEntry[];
  /** Pieces of which every entry stands in the chain; in order. */
  readonly joined: readonly Piece[];
  /** Pieces that wait, or belong to another end. */
  readonly left: readonly Piece[];
}

/** Whether a tablet, by its id in the clinic, is the one that a case names so. */
export type Writes = (device: string, tablet: string) => boolean;

/** Where nothing is known of who writes as whom. */
const ANYBODY: Writes = () => true;

/** The pen behind every entry of a chain that grows. */
class Pens {
  readonly #writes: Writes;
  #point = PEN_START;
  #count = 0;

  constructor(writes: Writes) {
    this.#writes = writes;
  }

  behind(chain: readonly JournalEntry[]): PenPoint {
    for (; this.#count < chain.length; this.#count += 1) {
      const { event } = chain[this.#count] ?? {};
      if (event !== undefined) this.#point = penAfter(this.#point, event);
    }
    return this.#point;
  }

  /** How many of these entries behind a chain their tablet may have written, from the first on. */
  allowed(point: PenPoint, { device, entries }: Pick<Piece, 'device' | 'entries'>): number {
    let pen = point;
    for (const [n, { event }] of entries.entries()) {
      const isWriter = (tablet: string): boolean => this.#writes(device, tablet);
      if (!mayWrite(pen, { event, isWriter })) return n;
      pen = penAfter(pen, event);
    }
    return entries.length;
  }
}

/**
 * How far pieces that joined a chain say what is in it so that every tablet takes it. Entries of this tablet's own pen
 * that another one handed on count nowhere else: this tablet has to say them itself.
 */
export class SaidFor {
  readonly #chain: readonly JournalEntry[];
  readonly #writes: Writes;
  readonly #own: string;
  readonly #pens: Pens;

  /** @param o.own this tablet, by its id in the clinic. */
  constructor(
    chain: readonly JournalEntry[],
    { own, writes }: { readonly own: string; readonly writes: Writes },
  ) {
    this.#chain = chain;
    this.#writes = writes;
    this.#own = own;
    this.#pens = new Pens(writes);
  }

  /** Behind which entry a piece ends in this sense; the pieces are asked for in the order of their places. */
  upTo({ at, device, entries }: Piece): number {
    if (device === this.#own) return at + entries.length;
    let pen = this.#pens.behind(this.#chain.slice(0, at));
    for (const [n, { event }] of entries.entries()) {
      const may = (by: string): boolean =>
        mayWrite(pen, { event, isWriter: (tablet) => this.#writes(by, tablet) });
      if (!may(device) && may(this.#own)) return at + n;
      pen = penAfter(pen, event);
    }
    return at + entries.length;
  }
}

/** How a piece stands to a chain. */
function standing(
  chain: readonly JournalEntry[],
  { at, entries }: Piece,
): 'fits' | 'waits' | 'other' {
  if (at > chain.length) return 'waits';
  const differs = entries.some(({ seq, hash }) => {
    const here = chain[seq];
    return here !== undefined && here.hash !== hash;
  });
  if (differs) return 'other';
  const next = entries[chain.length - at];
  if (next === undefined) return 'fits';
  // One that begins behind the end names the entry that it follows.
  return next.prev === (chain.at(-1)?.hash ?? next.prev) ? 'fits' : 'other';
}

/**
 * @param chain what this tablet has of the case; its chain holds.
 * @param writes who writes as whom: entries of a tablet that did not hold the pen are left.
 */
export function joinEntries(
  chain: readonly JournalEntry[],
  pieces: readonly Piece[],
  writes = ANYBODY,
): Joined {
  let known = chain;
  const pens = new Pens(writes);
  const joined: Piece[] = [];
  const barred: Piece[] = [];
  let left = pieces.toSorted((a, b) => a.at - b.at || (a.subject < b.subject ? -1 : 1));
  for (;;) {
    const fitting = left.find((piece) => standing(known, piece) === 'fits');
    if (fitting === undefined) return { chain: known, joined, left: [...barred, ...left] };
    const entries = fitting.entries.slice(Math.max(0, known.length - fitting.at));
    const count = pens.allowed(pens.behind(known), { ...fitting, entries });
    known = [...known, ...entries.slice(0, count)];
    (count === entries.length ? joined : barred).push(fitting);
    left = left.filter((piece) => piece !== fitting);
    // What was written without the pen may stand here all the same, by the word of the tablet that had it.
    if (count > 0) left = [...left, ...barred.splice(0)];
  }
}

/** Another end of a case. */
export interface OtherEnd {
  /** Number of the first entry that is another than the one here. */
  readonly at: number;
  readonly device: string;
  readonly entries: readonly JournalEntry[];
  /** That tablet did not hold the pen there. */
  readonly withoutPen?: true;
}

interface GrowingEnd {
  readonly at: number;
  device: string;
  entries: readonly JournalEntry[];
  isAllowed: boolean;
}

/** Puts entries behind the end that they follow, or that has the first of them already. Whether there is one. */
function follows(
  ends: readonly GrowingEnd[],
  { entries, device, isAllowed }: Omit<GrowingEnd, 'at'>,
): boolean {
  const [first] = entries;
  for (const end of ends) {
    // Others may have handed it on before the tablet that pressed it did.
    if (isAllowed && !end.isAllowed && end.entries[0]?.hash === first?.hash) {
      Object.assign(end, { device, isAllowed });
    }
    const known = end.entries.findIndex(({ hash }) => hash === first?.hash);
    const isNext = end.entries.at(-1)?.hash === first?.prev;
    if (known < 0 && !isNext) continue;
    const fresh = isNext ? entries : entries.slice(end.entries.length - known);
    end.entries = [...end.entries, ...fresh];
    return true;
  }
  return false;
}

/** The other ends that pieces make beside a chain, each as far as it can be followed. */
export function otherEnds(
  chain: readonly JournalEntry[],
  pieces: readonly Piece[],
  writes = ANYBODY,
): readonly OtherEnd[] {
  const pens = new Pens(writes);
  const ends: GrowingEnd[] = [];
  const rest: Piece[] = [];
  for (const piece of pieces.toSorted((a, b) => a.at - b.at || (a.subject < b.subject ? -1 : 1))) {
    const from = piece.entries.findIndex(
      ({ seq, hash, prev }) =>
        (chain[seq] !== undefined && chain[seq].hash !== hash) ||
        (seq > 0 && seq === chain.length && prev === chain[seq - 1]?.hash),
    );
    const first = piece.entries[from];
    const { device } = piece;
    const entries = piece.entries.slice(Math.max(0, from));
    const point = new Pens(writes).behind(chain.slice(0, first?.seq ?? 0));
    const isAllowed = first === undefined || pens.allowed(point, { device, entries: [first] }) > 0;
    const isBehind = first !== undefined && first.seq === chain.length;
    if (first === undefined || (isBehind && isAllowed)) rest.push(piece);
    else if (!follows(ends, { device, entries, isAllowed })) {
      ends.push({ at: first.seq, device, entries, isAllowed });
    }
  }
  for (const { device, entries } of rest) follows(ends, { device, entries, isAllowed: false });
  return ends.map(({ isAllowed, ...end }) => (isAllowed ? end : { ...end, withoutPen: true }));
}
