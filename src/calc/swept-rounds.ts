/**
 * Rounds of a dwell whose beginning or end is swept: one press stands for all teeth of the round, each of
 * which takes between a shortest and a longest time, in order. So a dwell is known between two ends; the
 * round is as large as keeps the minimum by the shorter and the maximum by the longer. All in seconds.
 */
import { err, ok, type Result } from '../base/result.ts';
import { atMost, evenGroups } from './even-groups.ts';
import type { RoundPace } from './rounds.ts';

/** How long one tooth takes in a sweep. */
interface SweepSeconds {
  readonly shortest: number;
  readonly longest: number;
}

export interface SweptPace extends RoundPace {
  /** Absent where every tooth has a press of its own at that edge. */
  readonly start?: SweepSeconds;
  readonly end?: SweepSeconds;
}

interface Span {
  readonly lo: number;
  readonly hi: number;
}

/** When the hands come to one tooth, from the press or from the first press of the round. */
function reached(sweep: SweepSeconds | undefined, eachSeconds: number, at: number): Span {
  if (sweep === undefined) return { lo: at * eachSeconds, hi: at * eachSeconds };
  return { lo: at * sweep.shortest, hi: (at + 1) * sweep.longest };
}

/** The dwell of each tooth, between its two ends, when the end is pressed as soon as every clock has its time. */
export function sweptDwells(count: number, pace: SweptPace): readonly Span[] {
  const teeth = Array.from({ length: count }, (_, at) => ({
    begun: reached(pace.start, pace.applySeconds, at),
    ended: reached(pace.end, pace.rinseSeconds, at),
  }));
  const handsSeconds = count * (pace.start?.longest ?? pace.applySeconds);
  const first = Math.max(
    handsSeconds,
    // The clock of the last tooth has its time before the hands turn to the first.
    ...teeth.map(({ begun }, at) =>
      pace.end === undefined
        ? pace.minSeconds + begun.hi - at * pace.rinseSeconds
        : pace.minSeconds + begun.hi,
    ),
  );
  return teeth.map(({ begun, ended }) => ({
    lo: first + ended.lo - begun.hi,
    hi: first + ended.hi - begun.lo,
  }));
}

/** Sizes of the rounds, as few and as even as the limits allow; an error where no two fit. */
export function sweptRoundSizes(
  count: number,
  pace: SweptPace,
): Result<readonly number[], 'alone'> {
  let fits = 0;
  const keeps = (size: number) =>
    sweptDwells(size, pace).every(({ hi }) => atMost({ a: hi, b: pace.maxSeconds }));
  while (fits < count && keeps(fits + 1)) fits += 1;
  return fits < 2 ? err('alone') : ok(evenGroups({ count, largest: fits }));
}
