/**
 * Puts entries that came in pieces behind what this tablet has of a case. A piece is taken where it
 * follows; what comes too early waits for what is before it; where another entry stands already, the two are
 * two ends of one case, and the piece is kept apart whole. Pure.
 */
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
  const { caseId, at, subject, device } = held;
  const from = at === 0 ? { ...CHAIN_START, caseId } : { caseId, seq: at, prev: first.prev };
  if (verifyChain(entries, from).firstBad !== null) return null;
  return { subject, device, at, entries };
}

export interface Joined {
  /** Everything of the case that follows on one another, from its start. */
  readonly chain: readonly JournalEntry[];
  /** Pieces of which every entry stands in the chain; in order. */
  readonly joined: readonly Piece[];
  /** Pieces that wait, or belong to another end. */
  readonly left: readonly Piece[];
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

/** @param chain what this tablet has of the case; its chain holds. */
export function joinEntries(chain: readonly JournalEntry[], pieces: readonly Piece[]): Joined {
  let known = chain;
  const joined: Piece[] = [];
  let left = pieces.toSorted((a, b) => a.at - b.at || (a.subject < b.subject ? -1 : 1));
  for (;;) {
    const fitting = left.find((piece) => standing(known, piece) === 'fits');
    if (fitting === undefined) return { chain: known, joined, left };
    known = [...known, ...fitting.entries.slice(Math.max(0, known.length - fitting.at))];
    joined.push(fitting);
    left = left.filter((piece) => piece !== fitting);
  }
}

/** Another end of a case. */
export interface OtherEnd {
  /** Number of the first entry that is another than the one here. */
  readonly at: number;
  readonly device: string;
  readonly entries: readonly JournalEntry[];
}

interface GrowingEnd extends Omit<OtherEnd, 'entries'> {
  entries: readonly JournalEntry[];
}

/** Puts entries behind the end that they follow, or that has the first of them already. Whether there is one. */
function follows(ends: readonly GrowingEnd[], entries: readonly JournalEntry[]): boolean {
  const [first] = entries;
  for (const end of ends) {
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
): readonly OtherEnd[] {
  const ends: GrowingEnd[] = [];
  const rest: Piece[] = [];
  for (const piece of pieces.toSorted((a, b) => a.at - b.at || (a.subject < b.subject ? -1 : 1))) {
    const from = piece.entries.findIndex(
      ({ seq, hash }) => chain[seq] !== undefined && chain[seq].hash !== hash,
    );
    const first = piece.entries[from];
    if (first === undefined) rest.push(piece);
    else {
      const entries = piece.entries.slice(from);
      if (!follows(ends, entries)) ends.push({ at: first.seq, device: piece.device, entries });
    }
  }
  for (const piece of rest) follows(ends, piece.entries);
  return ends;
}
