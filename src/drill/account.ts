/** What a drill came to, from its journal: the run, the ideal run of the same seed, and what is measured. */
import type { Drilled } from '../engine/drilled-types.ts';
import { type CaseLog, replay } from '../engine/log.ts';
import type { Stamp } from '../engine/types.ts';
import type { Mishap } from '../protocol/types.ts';
import { courseOf, type DrillCourse, nowOn } from './course.ts';
import type { DrillCase } from './hands.ts';
import { type IdealRun, idealRun } from './ideal.ts';
import { type CardScore, type DrillScore, scoreDrill } from './score.ts';

/** A card that nobody had answered when the drill was ended counts only if it had stood so long, in ms. */
const TIME_TO_ANSWER_MS = 60_000;

export interface DrillAccount {
  readonly course: DrillCourse;
  /** Without what closed it. */
  readonly run: CaseLog;
  readonly ideal: IdealRun;
  readonly score: DrillScore;
  readonly endedAtMs: number;
}

/** What is kept of one mishap of a drill. */
export interface KindDone {
  readonly mishap: Mishap;
  readonly isRightFirst: boolean;
  readonly isInTime: boolean;
}

/** The run up to the press that closed it, and the stamp of that press; null where it is open. */
function closedIn(log: CaseLog): { readonly run: CaseLog; readonly stamp: Stamp } | null {
  const closing = log.records.findLast(({ event }) => event.type === 'case-closed');
  if (closing === undefined || log.state.closed === null) return null;
  const run = replay(log.records.filter(({ press }) => press < closing.press));
  return { run, stamp: closing.stamp };
}

/** Null where the drill is not over, or this version draws something else from its seed. */
export function accountOf(o: {
  readonly drill: Drilled;
  readonly drilled: DrillCase;
  readonly log: CaseLog;
}): DrillAccount | null {
  const closed = closedIn(o.log);
  const course = closed && courseOf({ ...o, log: closed.run });
  if (closed === null || course === null) return null;
  const { run, stamp } = closed;
  const { plan, drill } = course;
  const ideal = idealRun(o.drilled, course.drawn);
  const endedAtMs = nowOn(run.state, stamp);
  const score = scoreDrill({ plan, log: run, ideal, nowMs: endedAtMs });
  // What was there before people took over is not of this run.
  const isOwn = (atMs: number): boolean => drill.again === undefined || atMs > drill.beginsAtMs;
  const cards = score.cards.filter(
    ({ shown }) => drill.again === undefined || shown.card.id === drill.again,
  );
  const breaches = score.breaches.filter(({ at }) => isOwn(at.hiMs));
  return { course, run, ideal, endedAtMs, score: { ...score, cards, breaches } };
}

/** Whether a card was answered, rightly or not, or there was time to before the drill was ended. */
export function wasAnswered(card: CardScore, endedAtMs: number): boolean {
  const { shown, roomMs, firstRightMs, isMissed } = card;
  if (firstRightMs !== null || isMissed) return true;
  const room = Math.min(roomMs ?? TIME_TO_ANSWER_MS, TIME_TO_ANSWER_MS);
  return endedAtMs - shown.shownAtMs >= room;
}

/** What is kept of each mishap that came and could be answered. */
export function kindsDone({ score, endedAtMs }: DrillAccount): readonly KindDone[] {
  return score.cards.flatMap((card) => {
    const { isRightFirst, isInTime, shown } = card;
    if (shown.card.kind !== 'mishap') return [];
    if (!wasAnswered(card, endedAtMs)) return [];
    return [{ mishap: shown.card.mishap, isRightFirst, isInTime }];
  });
}
