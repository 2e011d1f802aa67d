/** Log-rank tests against the vectors: R with survival, and printed examples. */
import { describe, expect, test } from 'vitest';
import { present } from '../../src/base/assert.ts';
import { logRank } from '../../src/outcomes/figures/log-rank.ts';
import { lifeScores, robustLogRank } from '../../src/outcomes/figures/robust-log-rank.ts';
import { chiSquareAbove } from '../../src/outcomes/figures/tails.ts';
import { diceOf, uniform } from '../../src/plan/random.ts';
import { type Columns, expectClose, livesOf, vector } from './vectors.ts';

interface Grouped extends Columns {
  readonly groups: readonly (string | number)[];
  readonly strata?: readonly number[];
}

interface PrintedTest {
  readonly varianceFirst: number;
  readonly df: number;
}

const plain = ({ groups, ...columns }: Grouped) =>
  logRank({ lives: livesOf(columns), groups: groups.map(String) });

const asPrinted = (input: Grouped) => {
  const { variance, degrees, ...rest } = plain(input);
  return { ...rest, varianceFirst: variance[0]?.[0], df: degrees };
};

describe('as if units were independent', () => {
  test.each([
    vector<Grouped, PrintedTest>('logrank-6mp'),
    vector<Grouped, PrintedTest>('logrank-aml'),
    vector<Grouped, PrintedTest>('logrank-crossing'),
    vector<Grouped, PrintedTest>('logrank-four-groups'),
  ])('log-rank %#', ({ input, expected, tolerance }) => {
    expectClose(asPrinted(input), expected, tolerance);
  });

  test('in strata', () => {
    const { input, expected, tolerance } = vector<Grouped, unknown>('logrank-stratified');
    const strata = present(input.strata, 'the strata').map(String);
    const found = logRank({ lives: livesOf(input), groups: input.groups.map(String), strata });
    expectClose(
      {
        ...found,
        variance: found.variance[0]?.[0],
        df: found.degrees,
        unstratifiedChiSquare: plain(input).chiSquare,
      },
      expected,
      tolerance,
    );
  });
});

describe('with the patient as one', () => {
  const { input, expected, tolerance } = vector<
    Grouped,
    {
      naive: PrintedTest;
      robust: { observedMinusExpected: number; variance: number; chiSquare: number; p: number };
      tTest: { t: number; df: number; p: number };
      patientPermutation: { pAbout: number; draws: number };
    }
  >('cluster-logrank');
  const lives = livesOf(input);
  const isFirst = input.groups.map((group) => String(group) === '1');

  test('plain, robust and t', () => {
    expectClose(asPrinted(input), expected.naive, tolerance);
    const robust = present(robustLogRank({ lives, isFirst }), 'a robust test');
    const chiSquare = robust.t ** 2;
    expectClose(
      { ...robust, chiSquare, p: chiSquareAbove(chiSquare, 1) },
      expected.robust,
      tolerance,
    );
    const { t, degrees, p } = robust;
    expectClose({ t: Math.abs(t), df: degrees, p }, expected.tTest, tolerance);
  });

  // Whole patients are permuted here only: the clinic's comparisons never do it.
  test('whole patients permuted', () => {
    const patients = [...new Set(lives.map((life) => life.patient))];
    const scores = lifeScores({ lives, isFirst });
    const sums = patients.map((patient) =>
      lives.reduce((sum, life, at) => {
        return life.patient === patient ? sum + present(scores[at], 'a score').residual : sum;
      }, 0),
    );
    const labels = patients.map((patient) =>
      lives.some((life, at) => life.patient === patient && isFirst[at] === true),
    );
    const u = (of: readonly boolean[]): number =>
      Math.abs(sums.reduce((sum, each, at) => sum + (of[at] === true ? each : 0), 0));
    const seen = u(labels) - 1e-9;
    const dice = diceOf(3);
    let asFar = 0;
    const draws = 20_000;
    for (let draw = 0; draw < draws; draw += 1) {
      for (let at = labels.length - 1; at > 0; at -= 1) {
        const other = Math.floor(uniform(dice) * (at + 1));
        [labels[at], labels[other]] = [labels[other] === true, labels[at] === true];
      }
      if (u(labels) >= seen) asFar += 1;
    }
    expect(Math.abs(asFar / draws - expected.patientPermutation.pAbout)).toBeLessThan(0.01);
  });
});
