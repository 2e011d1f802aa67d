/** Which time that nobody watched is to be asked about. */
import type { Gap } from './types.ts';

/**
 * The newest gap whose length is in doubt: one that the clock tells nothing of comes first, because
 * every limit over it counts as passed until people say how long it was.
 */
export function gapInDoubt(gaps: readonly Gap[]): Gap | undefined {
  const inDoubt = gaps.filter((g) => !g.settled && g.hiMs > g.loMs);
  return inDoubt.findLast((g) => g.untrusted) ?? inDoubt.at(-1);
}
