/**
 * How far practice is with each kind of mishap, and what is drawn toward next. The order in which kinds come and
 * how many a month are rules of this project, no source: the dearest four first, then two a month.
 */
import type { Mishap } from '../protocol/types.ts';
import { type DrillDone, type Standing, standingOf } from './schedule.ts';

/** Every kind that can be seen at one instant, the dearest first. */
export const KINDS = [
  'saliva',
  'unit-dropped',
  'gelled-early',
  'light-failed',
  'blood',
  'patient-must-rinse',
  'dried-out',
  'left-in-light',
  'unit-will-not-seat',
  'chipped',
  'haemostatic-on-tooth',
  'light-weak',
] as const satisfies readonly Mishap[];

const FIRST = 4;
const A_MONTH = 2;
const MONTH_DAYS = 30;

export interface KindDay extends DrillDone {
  readonly mishap: Mishap;
}

export interface KindStanding extends Standing {
  readonly mishap: Mishap;
  /** Whether its turn has come. */
  readonly isIntroduced: boolean;
  /** The day on which its turn comes. */
  readonly fromDay: number;
  readonly times: number;
}

/** @param done in any order. @param today in the same days. */
export function readinessOf(done: readonly KindDay[], today: number): readonly KindStanding[] {
  const firstDay = Math.min(today, ...done.map(({ day }) => day));
  return KINDS.map((mishap, i) => {
    const own = done.filter((each) => each.mishap === mishap);
    const fromDay = firstDay + MONTH_DAYS * Math.max(0, Math.ceil((i + 1 - FIRST) / A_MONTH));
    const isIntroduced = own.length > 0 || today >= fromDay;
    return { mishap, isIntroduced, fromDay, times: own.length, ...standingOf(own, today) };
  });
}

/** What the next drill is drawn toward: what is due, lapsed or not practised, of what has had its turn. */
export const dueKinds = (standings: readonly KindStanding[]): readonly Mishap[] =>
  standings.flatMap(({ mishap, state, isIntroduced }) =>
    isIntroduced && (state === 'due' || state === 'lapsed' || state === 'not-practised')
      ? [mishap]
      : [],
  );
