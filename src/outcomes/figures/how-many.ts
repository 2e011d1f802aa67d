/**
 * How many failures and lives it would take: said on the first day, before anybody hopes to see
 * anything. Events: (za + zb)^2 / (share (1 - share) ln^2 ratio) (Biometrika 1981;68:316, Biometrics
 * 1983;39:499; from memory). Lives: by arithmetic, constant hazard, everyone followed for all the years.
 */
import { assert } from '../../base/assert.ts';
import { powerSum } from './smallest-ratio.ts';
import { poissonAtLeast } from './tails.ts';

/** Two-sided 5 %; power 80 % and equal groups unless told. */
export interface Wanted {
  /** Ratio of the rates that is to be seen. */
  readonly ratio: number;
  readonly power?: number;
  /** Share of the lives in the group with the higher rate. */
  readonly share?: number;
}

/** Failures in both groups together; round up. */
export function eventsNeeded(o: Wanted): number {
  const share = o.share ?? 0.5;
  return powerSum(o) ** 2 / (share * (1 - share) * Math.log(o.ratio) ** 2);
}

/** Lives in both groups together, all followed for `years`; round up. `yearlyRate` is a hazard. */
export function livesNeeded(
  o: Wanted & {
    readonly yearlyRate: number;
    readonly years: number;
    readonly designEffect?: number;
  },
): number {
  const share = o.share ?? 0.5;
  const failed = (rate: number): number => -Math.expm1(-rate * o.years);
  const chance = (1 - share) * failed(o.yearlyRate) + share * failed(o.yearlyRate * o.ratio);
  return (eventsNeeded(o) / chance) * (o.designEffect ?? 1);
}

const LONGEST = 40;

/**
 * Whole years that this many lives in both groups together would have to be followed before the ratio is likely
 * to be seen; null beyond 40 years. For the words of the first day.
 */
export function yearsToSee(
  o: Wanted & {
    readonly lives: number;
    readonly yearlyRate: number;
    readonly designEffect?: number;
  },
): number | null {
  for (let years = 1; years <= LONGEST; years += 1) {
    if (livesNeeded({ ...o, years }) <= o.lives) return years;
  }
  return null;
}

/** Against a fixed rate from outside: how long to watch, and how many failures are too many. */
export interface OneSample {
  readonly unitYears: number;
  readonly flagAt: number;
}

const STEP_YEARS = 5;

/** Exact Poisson, independent units; the smallest multiple of 5 unit-years that holds. */
export function oneSampleYears(o: {
  readonly rate: number;
  readonly ratio: number;
  readonly alphaOneSided: number;
  readonly power: number;
}): OneSample {
  assert(o.ratio > 1 && o.rate > 0, 'a higher rate than the usual one is looked for');
  let flagAt = 1;
  for (let unitYears = STEP_YEARS; ; unitYears += STEP_YEARS) {
    const usual = unitYears * o.rate;
    while (poissonAtLeast(flagAt, usual) > o.alphaOneSided) flagAt += 1;
    if (poissonAtLeast(flagAt, usual * o.ratio) >= o.power) return { unitYears, flagAt };
  }
}
