/** Splits what is stored of a case into what can be trusted and what is set apart. */
import { CHAIN_START, verifyChain } from './hash-chain.ts';
import type { CaseReading, CaseSummary, ChainVerdict } from './journal-types.ts';
import { parseEntry } from './parse-stored.ts';

/** A reading of what was stored as one case, whatever that is. */
export function readingOf(
  caseId: string,
  { stored, summary }: { stored: readonly unknown[]; summary: CaseSummary | null },
): CaseReading {
  const verdict = withMissing(verifyChain(stored, { ...CHAIN_START, caseId }), { stored, summary });
  const entries = stored.slice(0, verdict.goodCount).flatMap((value) => parseEntry(value) ?? []);
  return { caseId, entries, apart: stored.slice(verdict.goodCount), verdict };
}

/** A chain that holds but is shorter than it was has lost its end. */
function withMissing(
  verdict: ChainVerdict,
  { stored, summary }: { stored: readonly unknown[]; summary: CaseSummary | null },
): ChainVerdict {
  const expected = summary?.entries ?? 0;
  if (verdict.firstBad !== null || stored.length >= expected) return verdict;
  return { ...verdict, firstBad: { index: stored.length, reason: 'missing' } };
}
