/**
 * When a kind of mishap is to be practised again, and how far a pair is with it. Rules of this project, no source
 * for the days: after the first time in 7 days, then every 30; after two that were right and in time, 7 days or more apart:
 * every 90; a miss puts it back to 30; whoever is 30 days late has lapsed. "Ready" says that it was practised.
 */

export interface DrillDone {
  /** Whole days since any fixed day. */
  readonly day: number;
  /** The first way back was the right one, for the right subjects, in time. */
  readonly isRight: boolean;
}

export type Readiness = 'not-practised' | 'practising' | 'ready' | 'due' | 'lapsed';

export interface Standing {
  readonly state: Readiness;
  /** The day on which it is due; of what was never practised the first day. */
  readonly dueDay: number;
}

const AGAIN_DAYS = 7;
const USUAL_DAYS = 30;
const READY_DAYS = 90;
const LAPSED_AFTER_DAYS = 30;

/** How far it is on the day of the last drill: the days until the next, and whether it counts as ready. */
function restOf(drills: readonly DrillDone[]): {
  readonly days: number;
  readonly isReady: boolean;
} {
  const last = drills.at(-1);
  if (last === undefined) return { days: 0, isReady: false };
  const isReady = last.isRight && isPairedWith(drills);
  if (isReady) return { days: READY_DAYS, isReady };
  return { days: drills.length === 1 ? AGAIN_DAYS : USUAL_DAYS, isReady };
}

/** Whether those before the last, without a miss between, reach 7 days back from it. */
function isPairedWith(drills: readonly DrillDone[]): boolean {
  const last = drills.at(-1);
  for (let i = drills.length - 2; last !== undefined && i >= 0; i -= 1) {
    const other = drills[i];
    if (other === undefined || !other.isRight) return false;
    if (last.day - other.day >= AGAIN_DAYS) return true;
  }
  return false;
}

/** @param drills in any order. @param today in the same days. */
export function standingOf(drills: readonly DrillDone[], today: number): Standing {
  const inOrder = drills.toSorted((a, b) => a.day - b.day);
  const last = inOrder.at(-1);
  if (last === undefined) return { state: 'not-practised', dueDay: today };
  const { days, isReady } = restOf(inOrder);
  const dueDay = last.day + days;
  if (today >= dueDay + LAPSED_AFTER_DAYS) return { state: 'lapsed', dueDay };
  if (today >= dueDay) return { state: 'due', dueDay };
  return { state: isReady ? 'ready' : 'practising', dueDay };
}
