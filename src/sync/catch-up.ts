/** Reads a stream on, many messages at a time, in the order in which the store keeps them. */
import { ok } from '../base/result.ts';
import type { ClinicStore, StoredMessage, StoreResult, StreamName } from './store-types.ts';

/** Questions that are on their way at one time. */
export const READ_AT_ONCE = 64;

/**
 * The next messages of a stream at or after `from`; empty at its end. What was erased in between is passed
 * over. Errors: those of the store; then nothing is said of any message.
 */
export async function readOn(
  store: Pick<ClinicStore, 'get'>,
  o: { readonly stream: StreamName; readonly from: number; readonly atOnce?: number },
): StoreResult<readonly StoredMessage[]> {
  const { stream, from, atOnce = READ_AT_ONCE } = o;
  // The first alone: most often there is nothing new, and one question says so.
  const first = await store.get({ stream, seq: from });
  if (!first.ok) return first;
  if (first.value === null) return ok([]);
  const { seq } = first.value;
  const rest = await Promise.all(
    Array.from({ length: atOnce - 1 }, (_, i) => store.get({ stream, seq: seq + 1 + i })),
  );
  const found = new Map<number, StoredMessage>([[seq, first.value]]);
  for (const got of rest) {
    if (!got.ok) return got;
    if (got.value !== null) found.set(got.value.seq, got.value);
  }
  return ok([...found.values()].toSorted((a, b) => a.seq - b.seq));
}
