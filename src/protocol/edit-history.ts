/**
 * The edits of a draft, with undo and redo over all of them. What was done is a list; the present
 * document is the start with the first `done` edits, so undo gives back exactly what was there.
 */
import { present } from '../base/assert.ts';
import type { Problem } from '../base/problem.ts';
import { err, ok, type Result } from '../base/result.ts';
import { applyEdit, replayEdits } from './edit.ts';
import { type Edit, itemAt, type Part, titleOf } from './edit-types.ts';
import type { Protocol } from './types.ts';

export interface EditHistory {
  readonly start: Protocol;
  readonly edits: readonly Edit[];
  /** How many of the edits count now; the others wait to be done again. */
  readonly done: number;
  readonly protocol: Protocol;
}

export function beginHistory(start: Protocol): EditHistory {
  return { start, edits: [], done: 0, protocol: start };
}

/** Does one more edit; what had been undone is forgotten. */
export function addEdit(history: EditHistory, edit: Edit): Result<EditHistory, Problem> {
  const next = applyEdit(history.protocol, edit);
  if (!next.ok) return next;
  const { start, edits, done } = history;
  return ok({
    start,
    edits: [...edits.slice(0, done), edit],
    done: done + 1,
    protocol: next.value,
  });
}

/** Does these edits, each of which Undo takes back alone. The document is read anew only once. */
export function addEdits(
  history: EditHistory,
  edits: readonly Edit[],
): Result<EditHistory, Problem> {
  const next = replayEdits(history.protocol, edits);
  if (!next.ok) return err(present(next.error[0], 'what was refused'));
  const { start, done } = history;
  const kept = [...history.edits.slice(0, done), ...edits];
  return ok({ start, edits: kept, done: kept.length, protocol: next.value });
}

function at(history: EditHistory, done: number): EditHistory {
  const replayed = replayEdits(history.start, history.edits.slice(0, done));
  // Each edit was accepted by the parser when it was made.
  const protocol = replayed.ok ? replayed.value : undefined;
  return { ...history, done, protocol: present(protocol, 'a replayed draft') };
}

/** One step back; as it was at the start. */
export function undoEdit(history: EditHistory): EditHistory {
  return history.done === 0 ? history : at(history, history.done - 1);
}

/** One step forward again; as it was at the end. */
export function redoEdit(history: EditHistory): EditHistory {
  return history.done === history.edits.length ? history : at(history, history.done + 1);
}

/** A history that was stored. Errors when the edits do not lead to a protocol any more. */
export function restoreHistory(o: {
  readonly start: Protocol;
  readonly edits: readonly Edit[];
  readonly done: number;
}): Result<EditHistory, readonly Problem[]> {
  const done = Math.max(0, Math.min(o.done, o.edits.length));
  const replayed = replayEdits(o.start, o.edits.slice(0, done));
  return replayed.ok
    ? ok({ start: o.start, edits: o.edits, done, protocol: replayed.value })
    : replayed;
}

/** An entry that the draft began with and has no more, with why it was taken out. */
interface ReasonedRemoval {
  readonly part: Part;
  readonly id: string;
  readonly title: string;
  readonly reason: string;
}

/** What was taken out with a reason and is still out; the last reason counts. */
export function reasonedRemovals(history: EditHistory): readonly ReasonedRemoval[] {
  const found = new Map<string, ReasonedRemoval>();
  for (const edit of history.edits.slice(0, history.done)) {
    if (edit.do !== 'remove' || edit.reason === undefined) continue;
    const { part, id, reason } = edit;
    const was = itemAt(history.start, { part, id });
    if (was === undefined || itemAt(history.protocol, { part, id }) !== undefined) continue;
    found.set(`${part}/${id}`, { part, id, title: titleOf(was), reason });
  }
  return [...found.values()];
}
