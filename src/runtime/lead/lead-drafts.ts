/**
 * Drafts of protocols: where each began, and the edits since. The edits are kept beside the start,
 * so that undo goes back to the beginning also after a reload.
 */
import * as v from 'valibot';
import type { Problem } from '../../base/problem.ts';
import { ok, type Result } from '../../base/result.ts';
import { type EditHistory, restoreHistory } from '../../protocol/edit-history.ts';
import { parseEdits } from '../../protocol/edit-parse.ts';
import { parseProtocol } from '../../protocol/parse-protocol.ts';
import { parsedOr, readOutside } from '../../protocol/read-outside.ts';
import type { Protocol } from '../../protocol/types.ts';
import type { Journal, JournalProblem } from '../../storage/journal-types.ts';
import { DRAFT, DRAFT_EDITS } from './lead-documents.ts';
import { type Sender, senderSchema } from './lead-protocol-file.ts';

interface DraftHead {
  readonly id: string;
  readonly start: Protocol;
  /** Hash of the document it began from; of the file, when it was imported. */
  readonly startHash: string;
  readonly origin: 'here' | 'import';
  /** For an import: hashes of the revisions it came from at the other clinic, newest first. */
  readonly ancestors: readonly string[];
  /** Who sent the file; null where it named nobody, and where there was no file. */
  readonly from: Sender | null;
  /** The tablet on which it was begun; null where an earlier version began it. */
  readonly tablet: string | null;
  readonly begunBy: string;
  readonly begunWallMs: number;
}

/** Where a draft begins, before anybody is named. */
export type DraftStart = Pick<DraftHead, 'start' | 'startHash' | 'origin' | 'ancestors' | 'from'>;

export interface ProtocolDraft extends DraftHead {
  readonly history: EditHistory;
}

const headSchema = v.object(
  {
    id: v.string(),
    startHash: v.string(),
    origin: v.fallback(v.picklist(['here', 'import']), 'here'),
    ancestors: v.fallback(v.array(v.string()), []),
    from: v.fallback(v.nullable(senderSchema), null),
    tablet: v.fallback(v.nullable(v.string()), null),
    begunBy: v.string(),
    begunWallMs: v.number(),
    start: v.unknown(),
  },
  'a stored draft',
);

const editsSchema = v.object({ edits: v.unknown(), done: v.number() });

function parseHead(value: unknown): Result<DraftHead, readonly Problem[]> {
  const head = readOutside(headSchema, value, 'draft');
  if (!head.ok) return head;
  const start = parseProtocol(head.value.start);
  return start.ok ? ok({ ...head.value, start: start.value }) : start;
}

async function readEdits(journal: Journal, head: DraftHead): Promise<EditHistory> {
  const fresh: EditHistory = { start: head.start, edits: [], done: 0, protocol: head.start };
  const stored = await journal.documents.get(DRAFT_EDITS, { id: head.id });
  const kept = parsedOr(editsSchema, stored.ok ? stored.value : null);
  const edits = kept === null ? null : parseEdits(kept.edits);
  if (kept === null || edits === null) return fresh;
  const restored = restoreHistory({ start: head.start, edits, done: kept.done });
  return restored.ok ? restored.value : fresh;
}

/** Every draft of this tablet with its edits; what cannot be read stays stored. */
export async function readDrafts(journal: Journal): Promise<readonly ProtocolDraft[]> {
  const listed = await journal.documents.list(DRAFT);
  const heads = (listed.ok ? listed.value : []).flatMap((document) => {
    const head = parseHead(document.value);
    return head.ok ? [head.value] : [];
  });
  return Promise.all(
    heads.map(async (head) => ({ ...head, history: await readEdits(journal, head) })),
  );
}

/**
 * Which drafts were edited while the desk was read: what was read of them is older than what the screen shows, and
 * must not take its place.
 */
export class DraftEdits {
  #turns = 0;
  readonly #editedAt = new Map<string, number>();

  /** Before a reading. */
  get now(): number {
    return this.#turns;
  }

  /** As an edit begins to be kept, and once it is. */
  note(id: string): void {
    this.#turns += 1;
    this.#editedAt.set(id, this.#turns);
  }

  /** What was read since `turn`, with the drafts that were edited meanwhile as they are shown. */
  newest(
    turn: number,
    read: readonly ProtocolDraft[],
    shown: readonly ProtocolDraft[],
  ): readonly ProtocolDraft[] {
    return read.map((draft) =>
      (this.#editedAt.get(draft.id) ?? 0) > turn
        ? (shown.find(({ id }) => id === draft.id) ?? draft)
        : draft,
    );
  }
}

type Kept = Promise<Result<unknown, JournalProblem>>;

/** Keeps where a draft begins; written once. */
export function keepDraft(journal: Journal, head: DraftHead, epoch: number): Kept {
  return journal.documents.put({ kind: DRAFT, id: head.id, value: { ...head }, epoch });
}

/** Keeps the edits of a draft after each of them. */
export function keepEdits(
  journal: Journal,
  o: { readonly id: string; readonly history: EditHistory; readonly epoch: number },
): Kept {
  const { edits, done } = o.history;
  return journal.documents.put({
    kind: DRAFT_EDITS,
    id: o.id,
    value: { edits, done },
    epoch: o.epoch,
  });
}

/** Takes a draft away. */
export async function dropDraft(
  journal: Journal,
  o: { readonly id: string; readonly epoch: number },
): Promise<Result<unknown, JournalProblem>> {
  await journal.documents.delete({ kind: DRAFT_EDITS, ...o });
  return journal.documents.delete({ kind: DRAFT, ...o });
}
