/**
 * How the entries of a case stand to the heads that tablets of the clinic signed of it. Pure.
 *
 * - `differs`: the entry that the head names is another one here, or one tablet signed two heads of one place.
 * - `cut`: a head names more entries than are here, and a whole reading of the store that began no earlier than
 *   the head was heard brought no more. A tablet sends a head only once the store has every entry that it
 *   names: until then it may be that they are on their way, and nothing is said.
 * - `stepped-back`: a tablet signed a head that follows on a longer one of its own.
 * - `forged-head`: a head that its tablet did not sign; it says nothing of the case.
 */
import type { JournalEntry } from '../../storage/journal-types.ts';

/** A head as it was heard, and of whom. */
export interface HeardHead {
  /** Id of the fact. */
  readonly id: string;
  /** The tablet of the clinic that signed it. */
  readonly device: string;
  readonly entries: number;
  readonly head: string;
  readonly atWallMs: number;
}

export type BrokenKind = 'differs' | 'cut' | 'stepped-back' | 'forged-head';

export interface BrokenChain {
  readonly caseId: string;
  readonly kind: BrokenKind;
  /** The tablet that signed the head, or in whose name it came. */
  readonly device: string;
  /** Entries that the head names. */
  readonly named: number;
  /** Entries that are here. */
  readonly here: number;
}

type Entry = Pick<JournalEntry, 'hash' | 'event'>;

/**
 * Whether the case was taken over from a tablet that was not heard of: what that one wrote on is the other end
 * of a known fork, and is told as one.
 */
const wasTakenOver = (entries: readonly Entry[]): boolean =>
  entries.some(
    ({ event }) => String(event.type) === 'pen-taken' && 'from' in event && event.from === 'gone',
  );

/**
 * What a head shows of the entries that are here; null where they hold, or may still come.
 * @param o.isReadSince the whole store was read since the head was heard, and nothing of the case waits for a key.
 */
export function judgeHead(
  entries: readonly Entry[],
  head: Pick<HeardHead, 'entries' | 'head'>,
  o: {
    readonly isReadSince: boolean;
    /** The other ends of the case, which are kept beside it. */
    readonly ends?: readonly { readonly entries: readonly Pick<JournalEntry, 'seq' | 'hash'>[] }[];
  },
): 'differs' | 'cut' | null {
  const isOther = o.ends?.some((end) =>
    end.entries.some(({ seq, hash }) => seq === head.entries - 1 && hash === head.head),
  );
  // What it names is here, and told as the other end.
  if (isOther === true) return null;
  const named = entries[head.entries - 1];
  if (named === undefined) return o.isReadSince ? 'cut' : null;
  if (named.hash === head.head) return null;
  return wasTakenOver(entries.slice(0, head.entries)) ? null : 'differs';
}

/**
 * The same of a case whose entries lie on the store: only its end is known here. What a head names before it is
 * judged once the entries were fetched.
 */
export function judgeEnd(
  end: { readonly entries: number; readonly head: string },
  head: Pick<HeardHead, 'entries' | 'head'>,
  o: { readonly isReadSince: boolean },
): 'differs' | 'cut' | null {
  if (head.entries > end.entries) return o.isReadSince ? 'cut' : null;
  return head.entries === end.entries && head.head !== end.head ? 'differs' : null;
}

/**
 * What a head that comes says beside the one that the same tablet signed before.
 * `newer`: it takes its place; `known`: it is older, or the same again.
 */
export function besideEarlier(
  earlier: HeardHead | undefined,
  came: HeardHead & { readonly after: readonly string[] },
): 'newer' | 'known' | 'differs' | 'stepped-back' {
  if (earlier === undefined || came.entries > earlier.entries) return 'newer';
  if (came.entries === earlier.entries) return came.head === earlier.head ? 'known' : 'differs';
  return came.after.includes(earlier.id) ? 'stepped-back' : 'known';
}
