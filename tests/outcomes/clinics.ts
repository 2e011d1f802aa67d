/**
 * Simulated clinics where the truth is known. Units fail at a constant rate times a factor of the patient,
 * which is gamma distributed with mean 1: with variance 0 units are independent, with 1 dependence is moderate,
 * with 2.5 strong. The two variances were chosen by the power that they leave at 472 lives with 4 units a patient:
 * near 52 and 33 %, where independent units leave 78.
 */
import type { Followed } from '../../src/outcomes/figures/follow-up-length.ts';
import { type Dice, normal, uniform } from '../../src/plan/random.ts';

/** Variance of the patient's factor. */
export const DEPENDENCE = { none: 0, moderate: 1, strong: 2.5 } as const;

export interface ClinicOf {
  readonly patients: number;
  readonly dependence: keyof typeof DEPENDENCE;
  /** Whole patients in turn, or a share of the units at random. */
  readonly factor: 'patient' | { readonly shareOfUnits: number };
  /** Ratio of the rate in the first group. */
  readonly ratio: number;
  /** Years that a patient is followed: between these two. */
  readonly years: readonly [from: number, to: number];
  /** The same for patients of the first group, where it differs: a factor of the patient. */
  readonly yearsOfFirst?: readonly [from: number, to: number];
  readonly dice: Dice;
}

export interface Clinic {
  readonly lives: readonly Followed[];
  readonly isFirst: readonly boolean[];
}

const UNITS = 4;
const YEARLY_RATE = 0.02;
const DAYS = 365.25;

/** Marsaglia & Tsang, ACM Trans Math Softw 2000;26:363 (from memory). */
function gamma(shape: number, dice: Dice): number {
  if (shape < 1) return gamma(shape + 1, dice) * uniform(dice) ** (1 / shape);
  const d = shape - 1 / 3;
  const c = 1 / Math.sqrt(9 * d);
  for (;;) {
    const x = normal(dice);
    const v = (1 + c * x) ** 3;
    if (v > 0 && Math.log(uniform(dice)) < (x * x) / 2 + d - d * v + d * Math.log(v)) return d * v;
  }
}

export function simulatedClinic(o: ClinicOf): Clinic {
  const { dice } = o;
  const lives: Followed[] = [];
  const isFirst: boolean[] = [];
  const variance = DEPENDENCE[o.dependence];
  for (let patient = 0; patient < o.patients; patient += 1) {
    const factor = variance === 0 ? 1 : gamma(1 / variance, dice) * variance;
    const isNew = o.factor === 'patient' && patient % 2 === 0;
    const [from, to] = isNew ? (o.yearsOfFirst ?? o.years) : o.years;
    const possible = (from + (to - from) * uniform(dice)) * DAYS;
    for (let unit = 0; unit < UNITS; unit += 1) {
      const first =
        o.factor === 'patient' ? patient % 2 === 0 : uniform(dice) < o.factor.shareOfUnits;
      const rate = (YEARLY_RATE / DAYS) * factor * (first ? o.ratio : 1);
      const fails = -Math.log(uniform(dice)) / rate;
      const isFailed = fails <= possible;
      lives.push({
        entry: 0,
        time: isFailed ? Math.ceil(fails) : Math.ceil(possible),
        event: isFailed ? 'event' : 'none',
        patient: `p${patient}`,
        possible: Math.ceil(possible),
      });
      isFirst.push(first);
    }
  }
  return { lives, isFirst };
}
