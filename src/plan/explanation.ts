/**
 * How a computed number came about, as data: which formula, from which inputs, on whose word, and
 * which of several answers decided. Words for people belong to the screens. Whatever is computed,
 * the instructions of the product overrule it, and every explanation says so.
 */
import type { Calc } from '../calc/calc.ts';
import type { CalcTables } from '../calc/tables.ts';

export type FormulaCode =
  | 'working-time-in-this-room'
  | 'lamp-light-allowance'
  | 'shortest-working-time'
  | 'units-per-mix'
  | 'subjects-per-round'
  | 'fewest-under-the-risk'
  | 'least-risky-groups'
  | 'transmittance-at-this-thickness'
  | 'time-for-the-dose'
  | 'longest-exposure-time'
  | 'tip-positions'
  | 'light-on-one-tooth'
  | 'median-of-own-records'
  | 'quantile-of-draws'
  | 'share-of-draws'
  | 'room-at-the-close';

export type DecidedBy =
  | 'product'
  | 'dose'
  | 'room-temperature'
  | 'lamp-light'
  | 'hands'
  | 'tip-size'
  | 'people'
  | 'table'
  | 'measured'
  | 'published-row'
  | 'own-records'
  | 'draws'
  | 'arithmetic';

type ValueUnit = 's' | 'units' | 'subjects' | 'positions' | 'share' | 'J/cm2';

/**
 * That a ceiling of light holds a time below what the dose takes, or that the product's own time is
 * past one: what keeps it there and what helps. Light is never the answer.
 */
export interface LightLimit {
  /**
   * The least dose is missed; only what is aimed at is missed; the product asks for more; the lamp
   * has no programme within one exposure.
   */
  readonly code: 'dose-not-reached' | 'target-not-reached' | 'product-time-over' | 'no-programme';
  readonly cause: 'ceramic' | 'lamp' | 'tip' | 'product';
  readonly wayOut: 'dual-cured-cement' | 'another-lamp' | 'wider-tip' | 'ask-the-lead';
  /** At the cement, in the time that is given. */
  readonly reachedJPerCm2?: number;
}

/** One number and everything needed to check it. */
export interface Explanation {
  /** What is explained: `exposure/expose/11/facial`, `rounds/etch`, `mixes`, `pace/seat`, `change-over/expose`. */
  readonly id: string;
  readonly value: number | readonly number[];
  readonly unit: ValueUnit;
  readonly formula: FormulaCode;
  readonly inputs: Readonly<Record<string, number | string | readonly number[]>>;
  readonly source: string;
  /** The same figure from a terminal: `calc <name> <input>`; null when it is a plain comparison. */
  readonly calc: {
    readonly name: string;
    readonly input: Readonly<Record<string, unknown>>;
  } | null;
  readonly decidedBy: DecidedBy;
  readonly overruledBy: 'product-instructions';
  readonly limit?: LightLimit;
}

/** A value with what explains it. */
export interface Explained<T> {
  readonly value: T;
  readonly why: readonly Explanation[];
}

/** Builds an explanation; every one of them yields to the product. */
export function explain(parts: Omit<Explanation, 'overruledBy'>): Explanation {
  return { ...parts, overruledBy: 'product-instructions' };
}

const sources = new WeakMap<Calc, string>();

/** Where formula and constants of a figure come from, as the figure itself says for any input. */
export function sourceOf(
  calc: Calc,
  input: Readonly<Record<string, unknown>>,
  tables: CalcTables = { blueLight: [], crowns: [] },
): string {
  const known = sources.get(calc);
  if (known !== undefined) return known;
  const answer = calc.compute(input, tables);
  if (!answer.ok) return calc.about;
  sources.set(calc, answer.value.source);
  return answer.value.source;
}
