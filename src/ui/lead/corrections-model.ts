/** What the new template corrects in a confirmed revision, as rows to read and to answer. */
import { type Change, changeId } from '../../protocol/diff.ts';
import { realChanges, type TemplateCorrection } from '../../protocol/open-corrections.ts';
import type { Source } from '../../protocol/types.ts';
import type { CorrectedProtocol, KeptAnswer } from '../../runtime/lead/lead-corrections.ts';
import type { ProtocolDraft } from '../../runtime/lead/lead-drafts.ts';
import { type ChangeRow, changeRow } from './editor/editor-change-model.ts';

export const ANSWERS = ['take', 'keep', 'later'] as const;
export type Answer = (typeof ANSWERS)[number];

/** Why something was corrected; `source` is null where nothing was published. */
interface Reason {
  readonly words: string;
  readonly source: string | null;
}

export interface CorrectionRow extends ChangeRow {
  readonly change: Change;
  readonly hurts: boolean;
  readonly isTyped: boolean;
  readonly reasons: readonly Reason[];
  readonly kept: KeptAnswer | null;
  /** Taken over already, in a draft that nobody has confirmed yet. */
  readonly isInDraft: boolean;
  /** What it is set to before anybody chooses. */
  readonly first: Answer;
}

export interface OtherRow {
  /** `part/id` of the entry. */
  readonly owner: string;
  readonly title: string;
  readonly changes: readonly Change[];
  readonly lines: readonly string[];
}

export interface CorrectionsPage {
  readonly rows: readonly CorrectionRow[];
  readonly others: readonly OtherRow[];
}

function reasonsOf({ rows }: TemplateCorrection, sources: readonly Source[]): readonly Reason[] {
  return rows.map(({ reason, source }) => {
    const citation = sources.find(({ id }) => id === source)?.citation;
    return { words: reason, source: citation ?? source ?? null };
  });
}

/** What the clinic has its own instructions for is never chosen for it. */
function firstOf(o: Pick<CorrectionRow, 'isTyped' | 'isInDraft' | 'kept'>): Answer {
  return o.isTyped || o.isInDraft || o.kept !== null ? 'later' : 'take';
}

/** The page of one protocol; `draft` is the one that was begun from the revision in force. */
export function correctionsPage(
  corrected: CorrectedProtocol,
  draft: ProtocolDraft | null,
): CorrectionsPage {
  const { inForce, template, kept } = corrected;
  const compared = { before: inForce, after: template };
  const draftLacks =
    draft === null ? null : new Set(realChanges(draft.history.protocol, template).map(changeId));
  const rows = corrected.corrections.map((correction): CorrectionRow => {
    const { id, change, hurts, isTyped } = correction;
    const isInDraft = draftLacks !== null && !draftLacks.has(id);
    const standing = { isTyped, isInDraft, kept: kept.get(id) ?? null };
    const reasons = reasonsOf(correction, template.sources);
    const first = firstOf(standing);
    return { ...changeRow(change, compared), ...standing, change, hurts, reasons, first };
  });
  const others = corrected.others.map(({ owner, changes }): OtherRow => {
    const lines = changes.map((change) => changeRow(change, compared).line);
    return { owner, changes, lines, title: changes[0]?.title ?? owner };
  });
  return { rows, others };
}

/** What people chose: answers by the place of a correction, other changes by their entry. */
export interface Chosen {
  readonly answers: ReadonlyMap<string, Answer>;
  readonly reasons: ReadonlyMap<string, string>;
  readonly others: ReadonlySet<string>;
}

interface Outcome {
  /** What goes into the draft, without what comes along. */
  readonly taken: readonly Change[];
  readonly kept: readonly { readonly row: CorrectionRow; readonly reason: string }[];
  readonly later: number;
  readonly isReasonMissing: boolean;
}

export function outcomeOf({ rows, others }: CorrectionsPage, chosen: Chosen): Outcome {
  const answerOf = (row: CorrectionRow) => chosen.answers.get(row.id) ?? row.first;
  const taken = [
    ...rows.filter((row) => answerOf(row) === 'take').map(({ change }) => change),
    ...others.filter(({ owner }) => chosen.others.has(owner)).flatMap(({ changes }) => changes),
  ];
  const kept = rows
    .filter((row) => answerOf(row) === 'keep')
    .map((row) => ({ row, reason: (chosen.reasons.get(row.id) ?? '').trim() }));
  return {
    taken,
    kept,
    later: rows.filter((row) => answerOf(row) === 'later').length,
    isReasonMissing: kept.some(({ reason }) => reason === ''),
  };
}
