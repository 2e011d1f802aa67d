/** One draft as a screen uses it: what it holds, what it is compared with, and how it is edited. */
import { useState } from 'react';
import { addEdit, type EditHistory, redoEdit, undoEdit } from '../../../protocol/edit-history.ts';
import type { Edit } from '../../../protocol/edit-types.ts';
import type { Protocol } from '../../../protocol/types.ts';
import type { ProtocolDraft } from '../../../runtime/lead/lead-drafts.ts';
import { draftProblemWords } from '../../../words/draft-problem-words.ts';
import { leadProblemWords } from '../../../words/lead-words.ts';
import { useApp } from '../../shared/session-context.ts';
import { useLead, useLeadDesk } from '../use-lead.ts';

/** What a draft is compared with: the revision in use, the template, or what it began from. */
interface DraftBase {
  readonly protocol: Protocol;
  readonly hash: string;
  readonly isConfirmed: boolean;
  /** Nothing is here under its id yet: a new protocol, or one from elsewhere. */
  readonly isStart?: boolean;
}

export interface OpenDraft {
  readonly saved: ProtocolDraft;
  readonly protocol: Protocol;
  readonly base: DraftBase;
  /** Why the last edit was refused or could not be kept; null when all is well. */
  readonly words: string | null;
  /** False when the edit was refused. */
  edit(edit: Edit): boolean;
  /** Several edits that belong together; stops at the first that is refused. */
  editAll(edits: readonly Edit[]): boolean;
  undo(): void;
  redo(): void;
}

/** The draft with this id; null when it is not on the desk. */
export function useOpenDraft(id: string): OpenDraft | null {
  const desk = useLeadDesk();
  const draft = useLead((s) => s.drafts.find((d) => d.id === id));
  const entries = useApp((s) => s.protocols);
  const [words, setWords] = useState<string | null>(null);
  if (draft === undefined) return null;
  const { history } = draft;
  const entry = entries.find((e) => e.protocol.id === history.protocol.id);
  const base: DraftBase = entry
    ? { protocol: entry.protocol, hash: entry.hash, isConfirmed: entry.approval !== null }
    : { protocol: draft.start, hash: draft.startHash, isConfirmed: false, isStart: true };
  const keep = async (next: EditHistory): Promise<void> => {
    const kept = await desk.saveDraft(id, next);
    setWords(kept.ok ? null : leadProblemWords(kept.error));
  };
  const editAll = (edits: readonly Edit[]): boolean => {
    let next = history;
    for (const edit of edits) {
      const edited = addEdit(next, edit);
      if (!edited.ok) {
        setWords(draftProblemWords(edited.error, { protocol: next.protocol, edits: [edit] }));
        return false;
      }
      next = edited.value;
    }
    void keep(next);
    return true;
  };
  return {
    saved: draft,
    protocol: history.protocol,
    base,
    words,
    edit: (edit) => editAll([edit]),
    editAll,
    undo: () => void keep(undoEdit(history)),
    redo: () => void keep(redoEdit(history)),
  };
}
