/**
 * Rounds: how many teeth one operator takes together through a dwell with a minimum and a maximum,
 * such as an etch. Touching n teeth `applySeconds` apart and rinsing them `rinseSeconds` apart in
 * the same order gives tooth i (0 to n-1) a dwell of T + i * (rinse - apply). T, from the first
 * touch to the first rinse, is at least n * apply, because the hands are busy until then, and
 * otherwise as short as the minimum dwell allows. All durations in seconds.
 */
import { type Problem, problem } from '../base/problem.ts';
import { err, ok, type Result } from '../base/result.ts';
import { type Calc, defineCalc } from './calc.ts';
import { atMost, evenGroups } from './even-groups.ts';
import { readNumber, readObject } from './reading.ts';

export interface RoundPace {
  /** From touching one tooth to touching the next; 0 or more. */
  readonly applySeconds: number;
  /** From rinsing one tooth to rinsing the next; 0 or more. */
  readonly rinseSeconds: number;
  readonly minSeconds: number;
  readonly maxSeconds: number;
}

const COUNT_MAX = 1000;
const DIGITS = 1e9;

/** Time from the first touch to the first rinse of a round of n teeth. */
function firstRinseSeconds(count: number, pace: RoundPace): number {
  // When rinsing is faster than applying, the last tooth waits least and sets the start.
  const lead = Math.max(0, (count - 1) * (pace.applySeconds - pace.rinseSeconds));
  return Math.max(count * pace.applySeconds, pace.minSeconds + lead);
}

function longestSeconds(count: number, pace: RoundPace): number {
  const trail = Math.max(0, (count - 1) * (pace.rinseSeconds - pace.applySeconds));
  return firstRinseSeconds(count, pace) + trail;
}

/** The dwell of each tooth of one round, in the order of touching. */
function roundDwells(count: number, pace: RoundPace): readonly number[] {
  const start = firstRinseSeconds(count, pace);
  return Array.from({ length: count }, (_, at) => {
    const dwell = start + at * (pace.rinseSeconds - pace.applySeconds);
    const tidy = Math.round(dwell * DIGITS) / DIGITS;
    return Math.min(pace.maxSeconds, Math.max(pace.minSeconds, tidy));
  });
}

/**
 * The largest round, at most `count` teeth, whose every dwell stays inside the limits; 0 when not
 * even one tooth fits.
 */
function largestRound(count: number, pace: RoundPace): number {
  let fits = 0;
  // The longest dwell never falls as the round grows, so the first misfit ends the search.
  while (fits < count && atMost({ a: longestSeconds(fits + 1, pace), b: pace.maxSeconds })) {
    fits += 1;
  }
  return fits;
}

/**
 * Sizes of the fewest rounds, as even as possible, larger ones first.
 * @returns the sizes, or a problem when one tooth alone breaks the limits.
 */
export function roundSizes(count: number, pace: RoundPace): Result<readonly number[], Problem> {
  if (pace.maxSeconds < pace.minSeconds) {
    const words = `a number of minSeconds (${pace.minSeconds}) or more`;
    return err(problem('calc.rounds.maxSeconds', words, pace.maxSeconds));
  }
  const largest = largestRound(count, pace);
  if (largest === 0) {
    const words = `at most maxSeconds (${pace.maxSeconds}), or no tooth fits the limits`;
    return err(problem('calc.rounds.applySeconds', words, pace.applySeconds, 'no-round-fits'));
  }
  return ok(evenGroups({ count, largest }));
}

const readSeconds = readNumber({ min: 0, sane: 86_400 });

/** `rounds`: the dwell of each tooth in each round. */
export const roundsCalc: Calc = defineCalc(
  {
    name: 'rounds',
    about: 'the fewest rounds in which every dwell stays inside its limits',
    source: 'arithmetic: dwell of tooth i = T + i * (rinse - apply), T at least n * apply',
  },
  readObject({
    count: readNumber({ min: 1, max: COUNT_MAX, whole: true }),
    applySeconds: readSeconds,
    rinseSeconds: readSeconds,
    minSeconds: readSeconds,
    maxSeconds: readSeconds,
  }),
  (input) => {
    const sizes = roundSizes(input.count, input);
    return sizes.ok ? ok({ rounds: sizes.value.map((size) => roundDwells(size, input)) }) : sizes;
  },
);
