/**
 * What a clinic can hope to see, said before anything is counted: how many units it takes to see a yearly rate
 * doubled, with four units a patient. Rates and likeness are choices, sources stand with the figures.
 */
import { unitYearsToRuleOut } from '../figures/beta-product.ts';
import { LIVES_TIMES } from '../figures/design-effect.ts';
import { eventsNeeded, livesNeeded, oneSampleYears, yearsToSee } from '../figures/how-many.ts';
import { TABLE_YEARS } from '../figures/survival-curve.ts';

/** Usual rates a year: any failure, few failures, and veneers that debond (J Clin Med 2021;10:1074). */
export const USUAL_RATES = [0.02, 0.005, 0.0008] as const;
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
  readonly rates: readonly { readonly yearlyRate: number; readonly needed: readonly Needed[] }[];
  /** Years that so many lives must be followed to see any failure doubled, and veneers that debond; null: never. */
  readonly anyFailureYears: number | null;
  readonly debondYears: number | null;
  /** Unit-years against a fixed rate, and the failures at which it flags. */
  readonly against: { readonly unitYears: number; readonly flagAt: number };
  /** Unit-years without any failure that rule the usual rate out. */
  readonly ruledOutAfter: number;
}

const RATIO = 2;

export function firstDay(): FirstDay {
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
    rates: USUAL_RATES.map((yearlyRate) => ({ yearlyRate, needed: needed(yearlyRate) })),
    anyFailureYears: wait(USUAL_RATES[0]),
    debondYears: wait(USUAL_RATES[2]),
    against: oneSampleYears({
      rate: USUAL_RATES[0],
      ratio: RATIO,
      alphaOneSided: 0.05,
      power: 0.8,
    }),
    ruledOutAfter: Math.ceil(unitYearsToRuleOut(USUAL_RATES[0])),
  };
}
