/** The visit a day or more after seating: the same teeth, its hold counted from the last light. */

import type { Result } from '../../base/result.ts';
import { followsFrom } from '../../engine/follow-on.ts';
import type { CaseLog } from '../../engine/log.ts';
import { canonicalText } from '../../protocol/canonical-text.ts';
import type { CaseFile } from '../../protocol/case-types.ts';
import { todayWords } from '../../words/today-words.ts';
import type { AppStore } from '../store.ts';

/** The shipped protocol of that visit. */
export const FINISHING_VISIT = 'finishing-visit';

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

interface Keeper {
  readonly store: AppStore;
  saveCase(spec: CaseFile): Promise<Result<null, unknown>>;
  deletePrepared(id: string): Promise<Result<null, unknown>>;
}

/**
 * When a patient's case is closed, its finishing visit takes its place among the prepared ones. When the
 * closing is taken back, it goes again, unless people have changed or begun it.
 */
export async function keepFinishing(
  session: Keeper,
  { log, id }: { readonly log: CaseLog; readonly id: string },
): Promise<void> {
  const { opened, closed } = log.state;
  if (opened.mode !== 'patient' || opened.spec.follows !== undefined) return;
  const { prepared, cases } = session.store.getState();
  if (closed === null) {
    const begun = new Set(cases.map(({ specId }) => specId));
    const left = prepared.filter((spec) => !begun.has(spec.id));
    for (const visit of untouchedVisits(log, left)) await session.deletePrepared(visit.id);
    return;
  }
  const visit = finishingVisit(log, { id, prepared });
  if (typeof visit !== 'string') await session.saveCase(visit);
}

/** Visits that stand as they were prepared after this case. */
function untouchedVisits(log: CaseLog, prepared: readonly CaseFile[]): readonly CaseFile[] {
  return prepared.filter((spec) => {
    const own = finishingVisit(log, { id: spec.id, prepared: [] });
    return typeof own !== 'string' && canonicalText(own) === canonicalText(spec);
  });
}
