/**
 * One comparison of two groups by the rule that is fixed here, once for all: gates first, then the
 * test that counts the patient as one. What it finds is an association. A yearly review adds Holm over all its groups.
 */
import { present } from '../../base/assert.ts';
import { completeness, extremes, type Followed } from './follow-up-length.ts';
import { type Gates, gates } from './gates.ts';
import { type LogRank, logRank } from './log-rank.ts';
import { byPatient, countPatients, patientsWithFailure } from './patients.ts';
import { type RobustLogRank, robustLogRank, type TwoGroups } from './robust-log-rank.ts';
import { unitYears } from './sizes.ts';
import { smallestRatio } from './smallest-ratio.ts';

/** What stands beside a comparison, of one group. */
export interface SideFacts {
  readonly name: string;
  readonly lives: number;
  readonly patients: number;
  readonly unitsPerPatient: number;
  readonly failures: number;
  readonly patientsWithFailure: number;
  readonly expected: number;
  readonly unitYears: number;
  /** Observed over possible time; null where nothing could have been observed yet. */
  readonly completeness: number | null;
  /** Lives that have not been looked at for longer than the grace. */
  readonly unseen: number;
}

export interface Comparison {
  readonly gates: Gates;
  readonly first: SideFacts;
  readonly rest: SideFacts;
  /** As if units were independent: for observed and expected, its p stands nowhere alone. */
  readonly plain: LogRank;
  /** Null where it cannot be worked out, and while the gates are shut. */
  readonly robust: RobustLogRank | null;
  /** Patients with units in both groups: only then labels may be permuted within patients. */
  readonly patientsInBoth: number;
  /** Ratio that would be likely to show; null without failures. */
  readonly smallestRatio: number | null;
}

const FIRST = 'first';
const REST = 'rest';

/** `names` of the first group and of the rest are only passed on. */
export function compareTwo(
  o: TwoGroups<Followed> & {
    readonly names: readonly [first: string, rest: string];
    readonly graceDays: number;
  },
): Comparison {
  const groups = o.isFirst.map((isFirst) => (isFirst ? FIRST : REST));
  const strata = o.strata === undefined ? {} : { strata: o.strata };
  const plain = logRank({ lives: o.lives, groups, ...strata });
  const side = (group: string, name: string): SideFacts => {
    const lives = o.lives.filter((_, at) => groups[at] === group);
    const expected = plain.expected[plain.groups.indexOf(group)] ?? 0;
    return { ...factsOf(lives, o.graceDays), name, expected };
  };
  const [first, rest] = [side(FIRST, o.names[0]), side(REST, o.names[1])];
  const found = gates({
    lives: o.lives.length,
    patientsWithFailure: patientsWithFailure(o.lives),
    completeness: completeness(o.lives) ?? 0,
    groups: [first, rest].map((each) => ({ ...each, completeness: each.completeness ?? 0 })),
  });
  const failures = first.failures + rest.failures;
  const share = o.lives.length === 0 ? 0 : first.lives / o.lives.length;
  const isEmpty = failures === 0 || share === 0 || share === 1;
  return {
    gates: found,
    first,
    rest,
    plain,
    robust: found.isOpen ? robustLogRank(o) : null,
    patientsInBoth: patientsInBoth(o),
    smallestRatio: isEmpty ? null : smallestRatio({ failures, share }),
  };
}

function factsOf(
  lives: readonly Followed[],
  graceDays: number,
): Omit<SideFacts, 'name' | 'expected'> {
  const patients = countPatients(lives);
  return {
    lives: lives.length,
    patients,
    unitsPerPatient: patients === 0 ? 0 : lives.length / patients,
    failures: lives.filter((life) => life.event === 'event').length,
    patientsWithFailure: patientsWithFailure(lives),
    unitYears: unitYears(lives),
    completeness: completeness(lives),
    unseen: extremes(lives, graceDays).unseen,
  };
}

function patientsInBoth({ lives, isFirst }: TwoGroups): number {
  const labelled = lives.map(({ patient }, at) => ({
    patient,
    isFirst: present(isFirst[at], 'a label'),
  }));
  return [...byPatient(labelled).values()].filter(
    (units) => units.some((unit) => unit.isFirst) && units.some((unit) => !unit.isFirst),
  ).length;
}
