/** Which time that nobody watched is to be asked about. */
import { MS_PER_SECOND } from '../base/units.ts';
import type { Gap } from './types.ts';

const doubtMs = ({ loMs, hiMs }: Gap): number => hiMs - loMs;

/**
 * The newest gap whose length is in doubt: one that the clock tells nothing of comes first, because
 * every limit over it counts as passed until people say how long it was. Of less than a second nobody
 * can say whether it was really as long: its interval stays, and nothing is asked until several of
 * them make a second.
 */
export function gapInDoubt(gaps: readonly Gap[]): Gap | undefined {
  const inDoubt = gaps.filter((g) => !g.settled && g.hiMs > g.loMs);
  const small = inDoubt.filter((g) => g.hiMs < MS_PER_SECOND);
  const smallMs = small.reduce((sum, gap) => sum + doubtMs(gap), 0);
  const asked = smallMs < MS_PER_SECOND ? inDoubt.filter((g) => !small.includes(g)) : inDoubt;
  return asked.findLast((g) => g.untrusted) ?? asked.at(-1);
}
