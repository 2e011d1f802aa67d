/** What the check of a case's hash chain found, in words. Pure. */
import type { Session } from '../../../runtime/session.ts';
import { recordWords } from '../../../words/record-words.ts';

export type CaseReading = Extract<
  Awaited<ReturnType<Session['readCase']>>,
  { ok: true }
>['value']['reading'];

interface ChainModel {
  readonly isWhole: boolean;
  readonly words: string;
  /** SHA-256 of the last entry whose chain holds. */
  readonly head: string;
}

export function chainModel(
  reading: Pick<CaseReading, 'entries' | 'apart' | 'verdict'>,
): ChainModel {
  const isWhole = reading.verdict.firstBad === null && reading.apart.length === 0;
  const { goodCount } = reading.verdict;
  return {
    isWhole,
    words: isWhole
      ? recordWords.chainGood(goodCount)
      : recordWords.chainBad({ good: goodCount, apart: reading.apart.length }),
    head: reading.entries.at(-1)?.hash ?? recordWords.empty,
  };
}
