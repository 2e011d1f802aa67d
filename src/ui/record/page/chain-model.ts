/** What the check of a case's hash chain found, in words. Pure. */

import type { AnchorFact } from '../../../export/anchor.ts';
import { anchorFactText } from '../../../export/anchor.ts';
import { anchorFault, anchorNote } from '../../../export/export-words.ts';
import type { ChainFact } from '../../../export/record-types.ts';
import type { Session } from '../../../runtime/session.ts';
import { recordWords } from '../../../words/record-words.ts';

export type CaseReading = Extract<
  Awaited<ReturnType<Session['readCase']>>,
  { ok: true }
>['value']['reading'];

interface ChainModel {
  readonly isWhole: boolean;
  readonly words: string;
  /** What to do where it is not whole. */
  readonly todo: string;
  /** SHA-256 of the last entry whose chain holds. */
  readonly head: string;
  /** What was kept of its length, as it is handed to the terminal, and what its signature shows. */
  readonly anchor: { readonly text: string; readonly note: string } | null;
}

/** Why the chain of a record is not whole. */
export function chainWords({ entries, setApart, firstBad, anchor }: ChainFact): string {
  const isChained = firstBad === null && setApart === 0;
  const fault = isChained ? anchorFault(entries, anchor) : null;
  return fault ?? recordWords.chainBad({ good: entries, apart: setApart });
}

export function chainModel(
  reading: Pick<CaseReading, 'entries' | 'apart' | 'verdict'>,
  anchor?: AnchorFact,
): ChainModel {
  const isChained = reading.verdict.firstBad === null && reading.apart.length === 0;
  const { goodCount } = reading.verdict;
  const fault = isChained ? anchorFault(goodCount, anchor) : null;
  const chained = isChained
    ? recordWords.chainGood(goodCount)
    : recordWords.chainBad({ good: goodCount, apart: reading.apart.length });
  return {
    isWhole: isChained && fault === null,
    words: fault ?? chained,
    todo: fault === null ? recordWords.chainBadTodo : recordWords.chainCutTodo,
    head: reading.entries.at(-1)?.hash ?? recordWords.empty,
    anchor:
      anchor === undefined ? null : { text: anchorFactText(anchor), note: anchorNote(anchor) },
  };
}
