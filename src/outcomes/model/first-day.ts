/**
 * What a clinic can hope to see, said before anything is counted: how many units it takes to see a yearly rate
 * doubled, with four units a patient. The first rate is the accepted one; the others and the likeness are choices,
 * sources stand with the figures.
 */
import { unitYearsToRuleOut } from '../figures/beta-product.ts';
import { LIVES_TIMES } from '../figures/design-effect.ts';
import { eventsNeeded, livesNeeded, oneSampleYears, yearsToSee } from '../figures/how-many.ts';
import { TABLE_YEARS } from '../figures/survival-curve.ts';

/** Rates a year beside the accepted one: few failures, and veneers that debond (J Clin Med 2021;10:1074). */
const FEW_A_YEAR = 0.005;
const DEBOND_A_YEAR = 0.0008;
/** A clinic of this size is told how long it would wait. */
const MANY_LIVES = 500;

/** Lives in both groups together, all followed for the years; whole numbers, rounded up. */
export interface Needed {
  readonly years: number;
  readonly independent: number;
  /** Four units a patient: units of one patient fail together a little, or much. */
  readonly moderate: number;
  readonly strong: number;
}

export interface FirstDay {
  readonly failures: number;
  /** The size that the years below are told for. */
  readonly lives: number;
  readonly rates: readonly {
    readonly of: 'accepted' | 'few' | 'debond';
    readonly yearlyRate: number;
    readonly needed: readonly Needed[];
  }[];
  /** Years that so many lives must be followed to see the accepted rate doubled, and veneers that debond; null: never. */
  readonly acceptedYears: number | null;
  readonly debondYears: number | null;
  /** Unit-years against the accepted rate, and the failures at which it flags. */
  readonly against: { readonly unitYears: number; readonly flagAt: number };
  /** Unit-years without any failure that rule the accepted rate out. */
  readonly ruledOutAfter: number;
}

const RATIO = 2;

/** @param acceptedRate share a year, for the end point that is looked at. */
export function firstDay(acceptedRate: number): FirstDay {
  const needed = (yearlyRate: number): readonly Needed[] =>
    TABLE_YEARS.map((years) => {
      const lives = (designEffect: number) =>
        Math.ceil(livesNeeded({ ratio: RATIO, yearlyRate, years, designEffect }));
      return {
        years,
        independent: lives(1),
        moderate: lives(LIVES_TIMES.moderate),
        strong: lives(LIVES_TIMES.strong),
      };
    });
  const wait = (yearlyRate: number) =>
    yearsToSee({
      ratio: RATIO,
      lives: MANY_LIVES,
      yearlyRate,
      designEffect: LIVES_TIMES.moderate,
    });
  return {
    failures: Math.ceil(eventsNeeded({ ratio: RATIO })),
    lives: MANY_LIVES,
    rates: (
      [
        ['accepted', acceptedRate],
        ['few', FEW_A_YEAR],
        ['debond', DEBOND_A_YEAR],
      ] as const
    ).map(([of, yearlyRate]) => ({ of, yearlyRate, needed: needed(yearlyRate) })),
    acceptedYears: wait(acceptedRate),
    debondYears: wait(DEBOND_A_YEAR),
    against: oneSampleYears({
      rate: acceptedRate,
      ratio: RATIO,
      alphaOneSided: 0.05,
      power: 0.8,
    }),
    ruledOutAfter: Math.ceil(unitYearsToRuleOut(acceptedRate)),
  };
}
