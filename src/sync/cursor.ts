/**
 * How far a stream was read, and whether the store still is the one that was read: where another message
 * stands at a place that was read, or none any more, it was put back to an older state.
 */
import { ok } from '../base/result.ts';
import type { CursorMark, KeptCursor } from './sharing-database.ts';
import type { ClinicStore, StoredMessage, StoreResult, StreamName } from './store-types.ts';

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
  const { stream, seq, subject, keptAt } = o;
  const [last, ...older] = cursor?.marks ?? [];
  const before = older[0];
  // The last mark moves; it stays behind as an older one once it lies far enough from the one before it.
  const stays = last !== undefined && (before === undefined || last.seq - before.seq >= APART);
  const kept = stays ? [last, ...older] : older;
  return { stream, marks: [{ seq, subject, keptAt }, ...kept.slice(0, OLDER_MARKS)] };
}

/**
 * Whether what stands at a place is what was read there. The same message may stand there again after an older
 * disk, behind others than before; only the store's own time tells.
 */
export const isSameMark = (found: StoredMessage, read: CursorMark): boolean =>
  found.subject === read.subject && found.keptAt === read.keptAt;

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
  for (const mark of cursor.marks) {
    const { seq, subject } = mark;
    const got = await store.get({ stream: cursor.stream, seq });
    if (!got.ok) return got;
    const found = got.value;
    if (found?.seq === seq) return ok(isSameMark(found, mark) ? 'same' : 'went-back');
    if (found === null && !(await isErased(subject))) return ok('went-back');
  }
  return ok('same');
}
