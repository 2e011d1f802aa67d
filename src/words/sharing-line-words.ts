/** What the line about sharing says. */
import { MS_PER_SECOND } from '../base/units.ts';
import type { Times } from './date-words.ts';
import { formatWords } from './duration.ts';
import { sharingLine } from './en/sharing-line.ts';
import { spoken } from './language.ts';

export const sharingLineWords = spoken('sharingLine', sharingLine);

/** Whether both agree (`shared`), this tablet is behind, reads much at once, is let in no more, or another window does. */
export type SharingMark = 'shared' | 'behind' | 'reading' | 'put-out' | 'elsewhere';

/** What the line is told of the state; times in ms since 1970. */
interface Shared {
  readonly standing: 'alone' | 'paired' | 'put-out';
  readonly sharedAtWallMs: number | null;
  readonly behindSinceWallMs: number | null;
  /** What stands against sharing; `not-let-in` where the store refuses this tablet. */
  readonly problem: string | null;
  readonly catchUp: { readonly done: number; readonly of: number } | null;
}

/** A press is on its way for a moment: no line turns over for that. */
const BEHIND_MS_MIN = 10_000;
/** Above this the seconds stand still in tens, and above a minute there are none. */
const TENS_FROM_MS = 10_000;
const MINUTES_FROM_MS = 60_000;

/** How long ago, as coarse as it is old; never 0 s. */
function agoWords(ms: number): string {
  const stepMs =
    ms < TENS_FROM_MS ? MS_PER_SECOND : ms < MINUTES_FROM_MS ? TENS_FROM_MS : MINUTES_FROM_MS;
  return formatWords(Math.max(MS_PER_SECOND, Math.floor(ms / stepMs) * stepMs));
}

/** The line, and what it is marked with; null where this tablet belongs to no clinic of several. */
export function sharingWordsAt(
  shared: Shared,
  o: { readonly nowMs: number; readonly times: Times; readonly isReader?: boolean },
): { readonly mark: SharingMark; readonly words: string } | null {
  const { standing, sharedAtWallMs, behindSinceWallMs, catchUp } = shared;
  if (standing === 'alone') return null;
  if (standing === 'put-out') return { mark: 'put-out', words: sharingLineWords.putOut };
  if (o.isReader === true) return { mark: 'elsewhere', words: sharingLineWords.otherWindow };
  // It may be put out without having been told.
  if (shared.problem === 'not-let-in') {
    return { mark: 'put-out', words: sharingLineWords.notLetIn };
  }
  if (catchUp !== null) return { mark: 'reading', words: sharingLineWords.reading(catchUp) };
  const behindMs = behindSinceWallMs === null ? 0 : o.nowMs - behindSinceWallMs;
  const isBehind = behindSinceWallMs !== null && behindMs >= BEHIND_MS_MIN;
  if (sharedAtWallMs === null) return { mark: 'behind', words: sharingLineWords.notYet };
  if (!isBehind) {
    return {
      mark: 'shared',
      words: sharingLineWords.shared(agoWords(o.nowMs - sharedAtWallMs)),
    };
  }
  const isToday = o.times.dayKind(behindSinceWallMs, o) === 'today';
  const at = isToday ? o.times.time(behindSinceWallMs) : o.times.moment(behindSinceWallMs);
  return { mark: 'behind', words: sharingLineWords.notSince(at) };
}
