/** What is checked before anything is queued for storage. */
import { ok, type Result } from '../base/result.ts';
import { canonicalText } from '../protocol/canonical-text.ts';
import { CHAIN_START, verifyChain } from './hash-chain.ts';
import { refuse } from './journal-problem.ts';
import type { CaseReading, JournalEntry, JournalProblem } from './journal-types.ts';
import { parseEntry } from './parse-stored.ts';

/** Null when `value` can be hashed and stored; half a surrogate pair or NaN cannot. */
export function checkStorable(value: unknown, place: string): ReturnType<typeof refuse> | null {
  try {
    canonicalText(value);
    return null;
  } catch (cause) {
    return refuse('not-storable', {
      place,
      expected: 'text and numbers that JSON can carry',
      came: cause instanceof Error ? cause.message : cause,
    });
  }
}

export interface Backup {
  readonly entries: readonly JournalEntry[];
  /** Those that are not stored yet. */
  readonly missing: readonly JournalEntry[];
}

/** A backup of one case is taken whole or not at all: its chain must hold and agree with what is stored. */
export function checkBackup(
  { caseId, entries: values }: { readonly caseId: string; readonly entries: readonly unknown[] },
  stored: CaseReading,
): Result<Backup, JournalProblem> {
  const { firstBad } = verifyChain(values, { ...CHAIN_START, caseId });
  if (firstBad !== null) {
    return refuse('conflict', {
      place: `journal.cases.${caseId}[${firstBad.index}]`,
      expected: 'a chain that holds',
      came: firstBad.reason,
    });
  }
  const entries = values.flatMap((value) => parseEntry(value) ?? []);
  const other = stored.entries.find(({ hash }, i) => (entries[i]?.hash ?? hash) !== hash);
  if (other !== undefined) {
    return refuse('conflict', {
      place: `journal.cases.${caseId}[${other.seq}]`,
      expected: `the entry that is stored, ${other.hash}`,
      came: entries[other.seq]?.hash,
    });
  }
  return ok({ entries, missing: entries.slice(stored.entries.length) });
}
