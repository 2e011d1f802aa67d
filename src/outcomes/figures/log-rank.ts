/**
 * The log-rank test as if every unit were independent: for two or more groups, in strata where
 * wanted: observed, expected and variance are summed over strata (Cancer Chemother Rep 1966;50:163; from
 * memory; 16.79 for the 6-MP trial, Blood 1963;21:699). Units of one patient are not independent, so
 * in a comparison this p stands nowhere alone: see `robust-log-rank.ts`.
 */
import { assert, present } from '../../base/assert.ts';
import type { Timed } from '../life-types.ts';
import { type GroupRow, groupRows, placesBy } from './group-risk.ts';
import { chiSquareAbove } from './tails.ts';

/** Arrays are by group, in the order of `groups`. */
export interface LogRank {
  readonly groups: readonly string[];
  readonly observed: readonly number[];
  /** Failures expected if the groups were alike. */
  readonly expected: readonly number[];
  readonly variance: readonly (readonly number[])[];
  readonly chiSquare: number;
  readonly degrees: number;
  /** Null where nothing can be compared: fewer than two groups, or no failure while both were at risk. */
  readonly p: number | null;
}

interface Sums {
  readonly observed: number[];
  readonly expected: number[];
  readonly variance: number[][];
}

/** `groups` and `strata` name the group and the stratum of each life. */
export function logRank(o: {
  readonly lives: readonly Timed[];
  readonly groups: readonly string[];
  readonly strata?: readonly string[];
}): LogRank {
  assert(o.groups.length === o.lives.length, 'every life has a group');
  const names = [...placesBy(o.groups).keys()];
  const indexOf = new Map(names.map((name, at) => [name, at]));
  const sums: Sums = {
    observed: names.map(() => 0),
    expected: names.map(() => 0),
    variance: names.map(() => names.map(() => 0)),
  };
  const strata = o.strata ?? o.lives.map(() => '');
  for (const places of placesBy(strata).values()) {
    const rows = groupRows({
      lives: places.map((at) => present(o.lives[at], 'a life')),
      groupOf: places.map((at) => indexOf.get(present(o.groups[at], 'a group')) ?? 0),
      groups: names.length,
    });
    for (const row of rows) add(sums, row);
  }
  const { chiSquare, degrees } = quadraticForm(sums);
  return {
    groups: names,
    ...sums,
    chiSquare,
    degrees,
    p: degrees === 0 ? null : chiSquareAbove(chiSquare, degrees),
  };
}

function add(sums: Sums, { atRisk, failures, atRiskIn, failuresIn }: GroupRow): void {
  const spread = atRisk > 1 ? (failures * (atRisk - failures)) / (atRisk - 1) : 0;
  atRiskIn.forEach((inGroup, g) => {
    const share = inGroup / atRisk;
    sums.observed[g] = (sums.observed[g] ?? 0) + (failuresIn[g] ?? 0);
    sums.expected[g] = (sums.expected[g] ?? 0) + failures * share;
    const line = present(sums.variance[g], 'a line of the variance');
    atRiskIn.forEach((inOther, h) => {
      line[h] = (line[h] ?? 0) + spread * share * ((g === h ? 1 : 0) - inOther / atRisk);
    });
  });
}

const NOTHING = 1e-12;

/** u' V^-1 u by elimination. Lines without variance, the last group among them, are left out. */
function quadraticForm({ observed, expected, variance }: Sums): {
  readonly chiSquare: number;
  readonly degrees: number;
} {
  const u = observed.map((count, g) => count - (expected[g] ?? 0));
  const v = variance.map((line) => [...line]);
  const at = (g: number, h: number): number => v[g]?.[h] ?? 0;
  const scale = Math.max(...v.map((_, g) => at(g, g)), 0);
  let chiSquare = 0;
  let degrees = 0;
  for (let g = 0; g < u.length; g += 1) {
    const pivot = at(g, g);
    if (pivot <= NOTHING * scale || pivot === 0) continue;
    const head = u[g] ?? 0;
    chiSquare += (head * head) / pivot;
    degrees += 1;
    for (let h = g + 1; h < u.length; h += 1) {
      const factor = at(h, g) / pivot;
      u[h] = (u[h] ?? 0) - factor * head;
      const line = present(v[h], 'a line of the variance');
      for (let k = g; k < u.length; k += 1) line[k] = at(h, k) - factor * at(g, k);
    }
  }
  return { chiSquare, degrees };
}
