/**
 * Takes over what a template changed, figure by figure: as edits of a draft of the revision in force,
 * which is then read and confirmed like any other. The revision itself stays as it is.
 */
import { type Problem, problem } from '../../base/problem.ts';
import { err, ok, type Result } from '../../base/result.ts';
import { type Change, changeId, editsForChanges } from '../../protocol/diff.ts';
import { replayEdits } from '../../protocol/edit.ts';
import { addEdit, beginHistory, type EditHistory } from '../../protocol/edit-history.ts';
import type { Edit } from '../../protocol/edit-types.ts';
import { realChanges } from '../../protocol/open-corrections.ts';
import { takenWhole } from '../../protocol/taken-whole.ts';
import type { Protocol } from '../../protocol/types.ts';
import type { LeadDesk } from './lead.ts';
import type { ProtocolDraft } from './lead-drafts.ts';

interface TakenFrom {
  readonly template: Protocol;
  /** Differences between the revision in force and the template. */
  readonly changes: readonly Change[];
}

/** The newest draft of this desk that was begun from the revision in force. */
export function draftOf(drafts: readonly ProtocolDraft[], hash: string): ProtocolDraft | null {
  return drafts.findLast((d) => d.origin === 'here' && d.startHash === hash) ?? null;
}

/** Each edit is read anew; hundreds of them would take seconds on a tablet. */
const SINGLE_EDITS_MAX = 20;

/** All of them as one edit, which Undo takes back at once. */
function asOneEdit(history: EditHistory, edits: readonly Edit[]): Result<EditHistory, Problem> {
  const merged = replayEdits(history.protocol, edits);
  if (!merged.ok) {
    return err(merged.error[0] ?? problem('protocol', 'a protocol document', undefined));
  }
  return addEdit(history, { do: 'replace', protocol: merged.value });
}

/** The draft with these changes, and with what they cannot stand without; what it has already stays. */
function withTaken(
  history: EditHistory,
  { template, changes }: TakenFrom,
): Result<EditHistory, Problem> {
  const here = history.protocol;
  const open = realChanges(here, template);
  const wanted = new Set(changes.map(changeId));
  const chosen = open.filter((change) => wanted.has(changeId(change)));
  const edits = editsForChanges(takenWhole(chosen, { here, template, all: open }), template, here);
  if (edits.length > SINGLE_EDITS_MAX) return asOneEdit(history, edits);
  let next = history;
  for (const edit of edits) {
    const edited = addEdit(next, edit);
    if (!edited.ok) return edited;
    next = edited.value;
  }
  return ok(next);
}

/** Writes the changes into the draft of the revision, or into a new one. Answers with its id. */
export async function takeOver(
  desk: LeadDesk,
  o: TakenFrom & { readonly inForce: Protocol; readonly hash: string },
): Promise<Result<string, Problem>> {
  const before = draftOf(desk.state.getState().drafts, o.hash);
  const history = withTaken(before?.history ?? beginHistory(o.inForce), o);
  if (!history.ok) return err({ ...history.error, code: 'does-not-fit' });
  const begun = before === null ? await desk.beginDraft(o.inForce) : ok(before.id);
  if (!begun.ok) return begun;
  const saved = await desk.saveDraft(begun.value, history.value);
  if (!saved.ok) return saved;
  const isThere = desk.state.getState().drafts.some(({ id }) => id === begun.value);
  return isThere ? begun : err(problem('draft', 'a draft of this tablet', begun.value));
}
