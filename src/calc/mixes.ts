/**
 * Mixes: how many units one mix of cement serves. The first unit is ready `leadSeconds` after the
 * start of mixing, then each is loaded, seated and cleaned in `perUnitSeconds`, all of it before
 * the working time less a reserve. All durations in seconds.
 */
import { type Problem, problem } from '../base/problem.ts';
import { err, ok, type Result } from '../base/result.ts';
import { type Calc, defineCalc } from './calc.ts';
import { atMost, evenGroups } from './even-groups.ts';
import { readNumber, readObject } from './reading.ts';

interface MixPace {
  /** Working time of the mix, already corrected for the room and for lamp light received. */
  readonly workingSeconds: number;
  /** Part of the working time that stays unused. */
  readonly reserveSeconds: number;
  /** From the start of mixing until the first unit can be loaded. */
  readonly leadSeconds: number;
  readonly perUnitSeconds: number;
}

const UNITS_MAX = 1000;

/** The most units, up to `units`, that one mix serves; 0 when not even one fits. */
function largestMix(units: number, pace: MixPace): number {
  const usable = pace.workingSeconds - pace.reserveSeconds;
  let fits = 0;
  while (
    fits < units &&
    atMost({ a: pace.leadSeconds + (fits + 1) * pace.perUnitSeconds, b: usable })
  ) {
    fits += 1;
  }
  return fits;
}

/**
 * Units in each of the fewest mixes, as even as possible, larger ones first.
 * @returns the sizes, or a problem when one unit alone outlasts the working time.
 */
export function mixSizes(units: number, pace: MixPace): Result<readonly number[], Problem> {
  const largest = largestMix(units, pace);
  if (largest === 0) {
    const needs = pace.leadSeconds + pace.perUnitSeconds + pace.reserveSeconds;
    const words = `at least ${needs} (lead, one unit and the reserve)`;
    return err(problem('calc.mixes.workingSeconds', words, pace.workingSeconds, 'no-unit-fits'));
  }
  return ok(evenGroups({ count: units, largest }));
}

const readSeconds = readNumber({ min: 0, sane: 86_400 });

/** `mixes`: units in each mix. */
export const mixesCalc: Calc = defineCalc(
  {
    name: 'mixes',
    about: 'the fewest mixes that serve all units inside the working time',
    source: 'arithmetic: lead + units * time per unit, at most working time - reserve',
  },
  readObject({
    units: readNumber({ min: 1, max: UNITS_MAX, whole: true }),
    workingSeconds: readSeconds,
    reserveSeconds: readSeconds,
    leadSeconds: readSeconds,
    perUnitSeconds: readSeconds,
  }),
  (input) => {
    const mixes = mixSizes(input.units, input);
    return mixes.ok ? ok({ mixes: mixes.value }) : mixes;
  },
);
