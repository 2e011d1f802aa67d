/**
 * How far a stream was read, and whether the store still is the one that was read: where another message
 * stands at a place that was read, or none any more, it was put back to an older state.
 */
import { ok } from '../base/result.ts';
import type { CursorMark, KeptCursor } from './sharing-database.ts';
import type { ClinicStore, StoreResult, StreamName } from './store-types.ts';

/** Marks that are kept behind the last one. A design choice of this project. */
const OLDER_MARKS = 4;
/** How far apart they lie at least. A design choice of this project. */
const APART = 32;

export const cursorAt = (cursor: KeptCursor | undefined): number => cursor?.marks[0]?.seq ?? 0;

/** The cursor after one more message was read. */
export function movedOn(
  cursor: KeptCursor | undefined,
  o: CursorMark & { readonly stream: StreamName },
): KeptCursor {
  const { stream, seq, subject } = o;
  const [last, ...older] = cursor?.marks ?? [];
  const before = older[0];
  // The last mark moves; it stays behind as an older one once it lies far enough from the one before it.
  const stays = last !== undefined && (before === undefined || last.seq - before.seq >= APART);
  const kept = stays ? [last, ...older] : older;
  return { stream, marks: [{ seq, subject }, ...kept.slice(0, OLDER_MARKS)] };
}

export type CursorVerdict = 'same' | 'went-back';

/**
 * Whether the store holds what was read at the newest mark of which that can be told. What was erased on
 * purpose leaves a gap, behind which messages go on; a stream that ends before the mark went back, unless
 * its last messages were of a thing that was deleted.
 */
export async function judgeCursor(
  store: Pick<ClinicStore, 'get'>,
  cursor: KeptCursor | undefined,
  isErased: (subject: string) => Promise<boolean>,
): StoreResult<CursorVerdict> {
  if (cursor === undefined) return ok('same');
  for (const { seq, subject } of cursor.marks) {
    const got = await store.get({ stream: cursor.stream, seq });
    if (!got.ok) return got;
    const found = got.value;
    if (found?.seq === seq) return ok(found.subject === subject ? 'same' : 'went-back');
    if (found === null && !(await isErased(subject))) return ok('went-back');
  }
  return ok('same');
}
