/** Splits what is stored of a case into what can be trusted and what is set apart. */
import { CHAIN_START, followChain, type KnownHashes } from './hash-chain.ts';
import type { CaseReading, CaseSummary, ChainVerdict } from './journal-types.ts';

/**
 * A reading of what was stored as one case, whatever that is.
 * @param o.hashes what some of it ought to carry, where that was worked out beforehand.
 */
export function readingOf(
  caseId: string,
  o: {
    readonly stored: readonly unknown[];
    readonly summary: CaseSummary | null;
    readonly hashes?: KnownHashes;
  },
): CaseReading {
  const { stored, hashes = new Map() } = o;
  const { entries, verdict } = followChain(stored, { from: { ...CHAIN_START, caseId }, hashes });
  return {
    caseId,
    entries,
    apart: stored.slice(verdict.goodCount),
    verdict: withMissing(verdict, o),
  };
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
