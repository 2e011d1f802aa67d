/**
 * Drafts of protocols: where each began, and the edits since. The edits are kept beside the start,
 * so that undo goes back to the beginning also after a reload.
 */
import { type Problem, problem } from '../../base/problem.ts';
import { err, ok, type Result } from '../../base/result.ts';
import { type EditHistory, restoreHistory } from '../../protocol/edit-history.ts';
import { parseEdits } from '../../protocol/edit-parse.ts';
import { parseProtocol } from '../../protocol/parse-protocol.ts';
import type { Protocol } from '../../protocol/types.ts';
import type { Journal, JournalProblem } from '../../storage/journal-types.ts';
import { DRAFT, DRAFT_EDITS, fieldsOf } from './lead-documents.ts';

export interface DraftHead {
  readonly id: string;
  readonly start: Protocol;
  /** Hash of the document it began from; of the file, when it was imported. */
  readonly startHash: string;
  readonly origin: 'here' | 'import';
  /** For an import: hashes of the revisions it came from at the other clinic, newest first. */
  readonly ancestors: readonly string[];
  readonly begunBy: string;
  readonly begunWallMs: number;
}

export interface ProtocolDraft extends DraftHead {
  readonly history: EditHistory;
}

function parseHead(value: unknown): Result<DraftHead, readonly Problem[]> {
  const { id, start, startHash, origin, ancestors, begunBy, begunWallMs } = fieldsOf(value);
  const protocol = parseProtocol(start);
  if (!protocol.ok) return protocol;
  const isWhole =
    typeof id === 'string' &&
    typeof startHash === 'string' &&
    typeof begunBy === 'string' &&
    typeof begunWallMs === 'number';
  if (!isWhole) return err([problem('draft', 'a stored draft', value)]);
  const from = origin === 'import' ? 'import' : 'here';
  const known = Array.isArray(ancestors) ? ancestors.map(String) : [];
  const head = {
    id,
    start: protocol.value,
    startHash,
    origin: from,
    begunBy,
    begunWallMs,
  } as const;
  return ok({ ...head, ancestors: known });
}

async function readEdits(journal: Journal, head: DraftHead): Promise<EditHistory> {
  const fresh: EditHistory = { start: head.start, edits: [], done: 0, protocol: head.start };
  const stored = await journal.documents.get(DRAFT_EDITS, { id: head.id });
  const { edits, done } = fieldsOf(stored.ok ? stored.value : null);
  const parsed = parseEdits(edits);
  if (parsed === null || typeof done !== 'number') return fresh;
  const restored = restoreHistory({ start: head.start, edits: parsed, done });
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
