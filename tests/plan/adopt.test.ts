/**
 * Another way to do a case, taken over into its file. Nothing outside the project to compare with:
 * what was compared before the choice must be what is planned after it.
 */
import { describe, expect, test } from 'vitest';
import { present } from '../../src/base/assert.ts';
import { adopted, compareAlternatives, computedAgain } from '../../src/plan/alternatives.ts';
import { makePlan } from '../../src/plan/make-plan.ts';
import { makeExplainedPlan, makeRunPlan } from '../../src/plan/run-plan.ts';
import type { CaseFile } from '../../src/protocol/case-types.ts';
import { parseCase } from '../../src/protocol/parse-case.ts';
import { shippedCase, shippedProtocol, shippedTables } from './shipped.ts';

const protocol = shippedProtocol();
const tables = shippedTables();
const spec = shippedCase('eight-upper-veneers');
const risk = { samples: 300, seed: 7 };
const inputOf = (of: CaseFile) => ({ spec: of, protocol, tables, risk });
const planned = makePlan(inputOf(spec));
const others = compareAlternatives(inputOf(spec), planned).filter((a) => !a.isPlanned);

/** The case as it comes back from the tablet's own storage. */
const stored = (of: CaseFile): CaseFile => {
  const parsed = parseCase(JSON.parse(JSON.stringify(of)));
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.error));
  return parsed.value;
};

describe('another way that is taken over', () => {
  test.each(others.map((a) => [a.id, a] as const))('%s is planned as it was compared', (_, a) => {
    const kept = stored(adopted(spec, a));
    const again = makePlan(inputOf(kept));
    expect(again.timeline.chairMs).toBe(a.chairMs);
    expect(again.risk.pAnyBroken).toBe(a.pAnyBroken);
    const own = compareAlternatives(inputOf(kept), again).filter((each) => each.kind === a.kind);
    const isOwn = own.filter((each) => each.isPlanned && each.step === a.step);
    expect(isOwn.map(({ sizes, order }) => ({ sizes, order }))).toEqual([
      { sizes: a.sizes, order: a.order },
    ]);
  });

  test('there are some of each kind, so that each was tried', () => {
    expect([...new Set(others.map((a) => a.kind))].sort()).toEqual(['mixes', 'order', 'rounds']);
  });

  test('a second one is added to the first, and all are given up again together', () => {
    const mixes = present(
      others.find((a) => a.kind === 'mixes' && a.sizes.length === 1),
      'mixes',
    );
    const rounds = present(
      others.find((a) => a.kind === 'rounds'),
      'rounds',
    );
    const both = stored(adopted(adopted(spec, mixes), rounds));
    const plan = makeRunPlan(both, protocol, tables);
    expect(plan.mixes.map((mix) => mix.length)).toEqual([8]);
    expect(plan.rounds[rounds.step ?? '']?.map((round) => round.length)).toEqual(rounds.sizes);
    expect(computedAgain(both)).toEqual(spec);
  });

  test('the explanation says that people decided it', () => {
    const one = present(
      others.find((a) => a.kind === 'mixes'),
      'mixes',
    );
    const { why } = makeExplainedPlan(inputOf(adopted(spec, one)));
    expect(why.find((each) => each.id === 'mixes')?.decidedBy).toBe('people');
  });
});

describe('what was chosen for other teeth', () => {
  const units = spec.units.slice(0, 5);
  const kept = new Set(units.flatMap((unit) => unit.teeth));
  const teeth = spec.teeth?.filter(({ tooth }) => kept.has(tooth)) ?? [];
  const fewer = { ...spec, units, teeth };

  test('rounds that do not add up are computed again, and no tooth is lost', () => {
    const wrong = { ...fewer, groups: { rounds: { etch: [4, 4], gone: [2] } } };
    expect(makeRunPlan(stored(wrong), protocol, tables)).toEqual(
      makeRunPlan(fewer, protocol, tables),
    );
  });

  test('mixes that do not add up are refused with the place, what was expected and what came', () => {
    const wrong = parseCase({ ...fewer, groups: { mixes: [4, 4] } });
    expect(wrong.ok ? [] : wrong.error).toMatchObject([
      {
        place: 'case.groups.mixes',
        expected: 'sizes that add up to 5, one for each unit',
        came: '8',
      },
    ]);
  });
});
