/** The visit a day or more after seating: the same teeth, its hold counted from the last light. */
import { followsFrom } from '../../engine/follow-on.ts';
import type { CaseLog } from '../../engine/log.ts';
import type { CaseFile } from '../../protocol/case-types.ts';
import { todayWords } from '../../words/today-words.ts';

/** The shipped protocol of that visit. */
const FINISHING_VISIT = 'finishing-visit';

/** Its case file; `no-light` where none was given, `prepared` where it is there already. */
export function finishingVisit(
  log: CaseLog,
  o: { readonly id: string; readonly prepared: readonly CaseFile[] },
): CaseFile | 'no-light' | 'prepared' {
  const follows = followsFrom(log);
  if (follows === null) return 'no-light';
  const isThere = o.prepared.some(
    (c) =>
      c.follows?.caseId === follows.caseId &&
      c.follows.lastExposureWallMs === follows.lastExposureWallMs,
  );
  if (isThere) return 'prepared';
  const { scheduledFor: _past, ...spec } = log.state.opened.spec;
  const title = todayWords.followOnTitle(spec.title);
  return { ...spec, id: o.id, title, protocol: FINISHING_VISIT, follows };
}
