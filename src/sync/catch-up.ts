/** Reads a stream on, many messages at a time, in the order in which the store keeps them. */
import { ok } from '../base/result.ts';
import { isSameMark } from './cursor.ts';
import type { CursorMark } from './sharing-database.ts';
import type { ClinicStore, StoredMessage, StoreResult, StreamName } from './store-types.ts';

/** Questions that are on their way at one time. */
export const READ_AT_ONCE = 64;

/** What follows; `isOther` where the store is not the one that was read before. */
export interface ReadOn {
  readonly messages: readonly StoredMessage[];
  readonly isOther: boolean;
}

const OTHER: ReadOn = { messages: [], isOther: true };

/**
 * The next messages of a stream behind the one that was read last; none at its end. What was erased in between is
 * passed over. The last one is asked for as well, each time: the store may have been put back to an older
 * state meanwhile, and what stands there then does not follow. Errors: those of the store; then nothing is
 * said of any message.
 */
export async function readOn(
  store: Pick<ClinicStore, 'get'>,
  o: {
    readonly stream: StreamName;
    /** Null at the start. */
    readonly after: CursorMark | null;
    /** How many at most. */
    readonly most: number;
  },
): StoreResult<ReadOn> {
  const { stream, after, most } = o;
  const from = (after?.seq ?? 0) + 1;
  const [before, first] = await Promise.all([
    after === null ? null : store.get({ stream, seq: after.seq }),
    store.get({ stream, seq: from }),
  ]);
  if (before?.ok === false) return before;
  if (!first.ok) return first;
  if (before !== null && isAnother(before.value, after)) return ok(OTHER);
  if (first.value === null) return ok({ messages: [], isOther: false });
  if (most === 1) return ok({ messages: [first.value], isOther: false });
  const { seq } = first.value;
  const all = await Promise.all(
    Array.from({ length: most }, (_, i) => store.get({ stream, seq: seq + i })),
  );
  const found = new Map<number, StoredMessage>();
  for (const got of all) {
    if (!got.ok) return got;
    // Questions may overtake one another: what is found behind the end that was told has others before it.
    if (got.value === null) break;
    found.set(got.value.seq, got.value);
  }
  const again = found.get(seq);
  if (again === undefined || !isSameMark(again, first.value)) return ok(OTHER);
  const messages = [...found.values()].toSorted((a, b) => a.seq - b.seq);
  return ok({ messages, isOther: false });
}

/** Whether another message stands where one was read. What was erased tells nothing. */
const isAnother = (found: StoredMessage | null, read: CursorMark | null): boolean =>
  found !== null && read !== null && found.seq === read.seq && !isSameMark(found, read);
