/**
 * The rule of comparison in clinics where the truth is known. Without any effect it may not raise more than 7 %
 * false alarms in any row; where the rate is doubled it must find it about as often as the power says. The
 * known numbers come from simulations with another program. The long run takes 2,000 clinics a row and prints
 * what it found.
 */
import { afterAll, describe, expect, test } from 'vitest';
import { overCommonYears } from '../../src/outcomes/figures/common-years.ts';
import { compareTwo } from '../../src/outcomes/figures/comparison.ts';
import {
  permutable,
  permutationP,
  permutePortion,
} from '../../src/outcomes/figures/permuted-within.ts';
import { robustLogRank } from '../../src/outcomes/figures/robust-log-rank.ts';
import { chiSquareAbove } from '../../src/outcomes/figures/tails.ts';
import { diceOf } from '../../src/plan/random.ts';
import { isLong, runSeed, runSize } from '../tools/run-size.ts';
import { type Clinic, type ClinicOf, simulatedClinic } from './clinics.ts';

const CLINICS = runSize({ long: 2000, part: 40 });
const DRAWS = 399;

/** Shares of all clinics, except `ruleOfOpen`: of those whose gates are open. */
interface Found {
  readonly open: number;
  /** Gates open and p below 0.05: what a clinic would be shown. */
  readonly rule: number;
  readonly ruleOfOpen: number;
  readonly robustT: number;
  readonly robustChiSquare: number;
  readonly plain: number;
  /** Labels permuted within patients, gates open; null where no patient differs. */
  readonly permutedRule: number | null;
  readonly permuted: number | null;
}

const isSmall = (p: number | null | undefined): boolean => (p ?? 1) < 0.05;

type Cut = (drawn: Clinic) => Clinic;

function simulate(o: Omit<ClinicOf, 'dice'>, seed: number, cut: Cut = (drawn) => drawn): Found {
  const dice = diceOf(seed);
  const counts = { open: 0, rule: 0, t: 0, chi: 0, plain: 0, permutedRule: 0, permuted: 0 };
  for (let clinic = 0; clinic < CLINICS; clinic += 1) {
    const drawn = cut(simulatedClinic({ ...o, dice }));
    const found = compareTwo({ ...drawn, names: ['a', 'b'], graceDays: 365 });
    const robust = robustLogRank(drawn);
    const permuted = o.factor === 'patient' ? false : isSmall(permutedP(drawn, clinic));
    counts.open += Number(found.gates.isOpen);
    counts.rule += Number(isSmall(found.robust?.p));
    counts.t += Number(isSmall(robust?.p));
    counts.chi += Number(robust !== null && isSmall(chiSquareAbove(robust.t ** 2, 1)));
    counts.plain += Number(isSmall(found.plain.p));
    counts.permuted += Number(permuted);
    counts.permutedRule += Number(permuted && found.gates.isOpen);
  }
  const share = (count: number): number => count / CLINICS;
  return {
    open: share(counts.open),
    rule: share(counts.rule),
    ruleOfOpen: counts.open === 0 ? 0 : counts.rule / counts.open,
    robustT: share(counts.t),
    robustChiSquare: share(counts.chi),
    plain: share(counts.plain),
    permutedRule: o.factor === 'patient' ? null : share(counts.permutedRule),
    permuted: o.factor === 'patient' ? null : share(counts.permuted),
  };
}

function permutedP(drawn: Parameters<typeof permutable>[0], clinic: number): number {
  const of = permutable(drawn);
  const asFar = permutePortion({ of, seed: runSeed(), portion: clinic, draws: DRAWS });
  return permutationP(asFar, DRAWS);
}

const report: Record<string, Found> = {};

afterAll(() => {
  if (!isLong) return;
  for (const [row, found] of Object.entries(report)) console.info(row, JSON.stringify(found));
});

/** Room for chance: three standard errors of the share in this many clinics, none in the long run. */
const room = (share: number): number =>
  isLong ? 0 : 3 * Math.sqrt((share * (1 - share)) / CLINICS);

const ROWS = [
  ['of the whole patient, strong dependence', 'patient', 'strong'],
  ['of the whole patient, moderate dependence', 'patient', 'moderate'],
  ['of the whole patient, independent', 'patient', 'none'],
  ['inside patients, 20 % of units, strong dependence', { shareOfUnits: 0.2 }, 'strong'],
  ['inside patients, 20 % of units, independent', { shareOfUnits: 0.2 }, 'none'],
] as const;
const SIZES = isLong ? [25, 50, 100, 150] : [100];

describe.each(ROWS)('no effect, a factor %s', (name, factor, dependence) => {
  test.each(SIZES)(
    '%i patients: at most 7 in 100 false alarms',
    (patients) => {
      const found = simulate(
        { patients, dependence, factor, ratio: 1, years: [4, 6] },
        runSeed() + patients,
      );
      report[`${name}, ${patients} patients`] = found;
      const most = 0.07 + room(0.05);
      expect(found.rule, 'rule').toBeLessThanOrEqual(most);
      expect(found.robustT, 'without gates').toBeLessThanOrEqual(most);
      expect(found.permuted ?? 0, 'permuted').toBeLessThanOrEqual(most);
      // The clinics are such that a test that takes units for independent is caught.
      const isHard = factor === 'patient' && dependence === 'strong';
      if (isLong && isHard) expect(found.plain, 'plain').toBeGreaterThan(0.07);
    },
    600_000,
  );
});

/** As revisions are compared: only over the years that both have. */
const overCommon: Cut = ({ lives, isFirst }) => {
  const groups = isFirst.map((first) => (first ? 'new' : 'old'));
  const common = overCommonYears({ lives, groups });
  return { lives: common.lives, isFirst: common.groups.map((group) => group === 'new') };
};

// No number is known for this one: the bound is the same.
describe('no effect, a new revision followed 3 to 5 years and an old one 6 to 10', () => {
  test.each(SIZES)(
    '%i patients: at most 7 in 100 false alarms',
    (patients) => {
      const found = simulate(
        {
          patients,
          dependence: 'strong',
          factor: 'patient',
          ratio: 1,
          years: [6, 10],
          yearsOfFirst: [3, 5],
        },
        runSeed() + patients,
        overCommon,
      );
      report[`revisions, ${patients} patients`] = found;
      expect(found.rule).toBeLessThanOrEqual(0.07 + room(0.05));
    },
    600_000,
  );
});

// Known power at 472 lives, 4 units a patient, 2 % a year, five years.
describe('a doubled rate', () => {
  test.each([
    ['none', 0.78],
    ['moderate', 0.52],
    ['strong', 0.33],
  ] as const)(
    '%s dependence: found with chance %d',
    (dependence, power) => {
      const found = simulate(
        { patients: 118, dependence, factor: 'patient', ratio: 2, years: [5, 5] },
        runSeed() + 118,
      );
      report[`doubled, ${dependence}`] = found;
      const off = isLong ? 0.04 : 3 * Math.sqrt((power * (1 - power)) / CLINICS);
      expect(Math.abs(found.rule - power)).toBeLessThanOrEqual(off);
    },
    600_000,
  );
});
