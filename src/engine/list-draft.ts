/**
 * Ticks and answers of a list while its pause lasts: what of it a press would take. A line that needs no
 * answer is ticked from the beginning, one that wants an answer once that is given.
 */
import type { ListLine, TakenLine } from './pressing-types.ts';

/** What was said of one line so far. */
export interface LineDraft {
  /** Ticked or unticked by hand; absent: as it comes. */
  readonly isTicked?: boolean;
  readonly option?: string;
  readonly evidence?: string;
  /** As it was typed. */
  readonly text?: string;
}

/** By {@link lineKey}. */
export type ListDraft = Readonly<Record<string, LineDraft>>;

type LineName = Pick<ListLine, 'step' | 'subjects'>;

export const lineKey = ({ step, subjects }: LineName): string => `${step} ${subjects.join(' ')}`;

/** Whether a line has the answer that it wants. */
export function isAnswered({ wants }: ListLine, draft: LineDraft = {}): boolean {
  if (wants === null) return true;
  if (wants === 'tick') return draft.isTicked === true;
  return (wants === 'option' ? draft.option : draft.evidence) !== undefined;
}

/** Whether a press would take a line. */
export const isTaken = (line: ListLine, draft: LineDraft = {}): boolean =>
  isAnswered(line, draft) && draft.isTicked !== false;

/** The lines that a press takes, each with its own answer. */
export function takenLines(lines: readonly ListLine[], drafts: ListDraft): readonly TakenLine[] {
  return lines.flatMap((line): TakenLine[] => {
    const draft = drafts[lineKey(line)] ?? {};
    if (!isTaken(line, draft)) return [];
    const { step, subjects, wants } = line;
    const { option, evidence } = draft;
    if (wants === null || wants === 'tick') return [{ step, subjects }];
    if (wants === 'option') return option === undefined ? [] : [{ step, subjects, option }];
    return evidence === undefined ? [] : [{ step, subjects, evidence }];
  });
}
