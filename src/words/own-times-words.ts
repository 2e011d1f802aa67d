/** Words of the page that tells what the clinic's own records say about time. */
import { formatWords } from './duration.ts';
import { ownTimes } from './en/own-times.ts';
import { spoken } from './language.ts';

export const ownTimesWords = spoken('ownTimes', ownTimes);

/** "20 s, slow 35 s (12)"; "none" where nothing was measured. */
export function spreadWords(
  spread: { readonly medianMs: number; readonly p90Ms: number; readonly count: number } | null,
): string {
  if (spread === null) return ownTimesWords.noSpread;
  return ownTimesWords.spread({
    median: formatWords(spread.medianMs),
    p90: formatWords(spread.p90Ms),
    count: spread.count,
  });
}
