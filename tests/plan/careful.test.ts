/** The default plan is the careful one: see `src/plan/careful.ts`. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { adopted, compareAlternatives } from '../../src/plan/alternatives.ts';
import { fewestPlan, type PlanInput, regrouped } from '../../src/plan/grouping.ts';
import { type FullPlan, makePlan } from '../../src/plan/make-plan.ts';
import { openGroupings } from '../../src/plan/open-groupings.ts';
import { openingState } from '../../src/plan/opening-state.ts';
import { projectCase } from '../../src/plan/project-case.ts';
import { drawSets } from '../../src/plan/risk.ts';
import { makeRunPlan } from '../../src/plan/run-plan.ts';
import type { CaseFile } from '../../src/protocol/case-types.ts';
import { caseOf, confirm, dwell, protocolOf, step, window } from '../engine/fixture.ts';
import { shippedCase, shippedProtocol, shippedTables } from './shipped.ts';

const TEN = ['11', '21', '12', '22', '13', '23', '14', '24', '15', '25'];

/** Acid tooth by tooth, then cement mixed for so many units, as short as can be. */
const etchAndSeat = (o: {
  apply: number;
  rinse: number;
  max: number;
  seat: number;
  open: number;
}) =>
  protocolOf(
    [
      step('etch', 'tooth', dwell(15, 20, o.max), { hands: [o.apply, o.rinse] }),
      step('mix', 'mix', confirm, { after: ['etch'] }),
      step('seat', 'unit', confirm, { after: ['mix/linked'], paceSeconds: o.seat }),
    ],
    {
      windows: [
        window('working', 'mix/end -> seat/end', {
          maxS: o.open,
          protects: 'working',
          match: 'linked',
        }),
      ],
    },
  );

const sizesOf = (parts: readonly (readonly unknown[])[]) => parts.map((part) => part.length);

/** The chance of every way to group one thing, everything else as planned, drawn anew. */
function chances(input: PlanInput, full: FullPlan) {
  const { spec, protocol } = input;
  return openGroupings(input, fewestPlan(spec, protocol, input.tables)).map((open) => {
    const own = full.careful.groups.find((g) => g.kind === open.kind && g.step === open.step);
    const ways = open.ways.map(({ sizes, mixes, rounds }) => {
      const plan = {
        ...full.plan,
        mixes: mixes ?? full.plan.mixes,
        rounds: { ...full.plan.rounds, ...rounds },
      };
      const projected = projectCase({ state: openingState({ spec, protocol, plan }), nowMs: 0 });
      const { brokenOf } = drawSets(projected, { sets: [open.limits] });
      return { sizes, chance: (brokenOf[0] ?? 0) / 2000 };
    });
    return { own, ways };
  });
}

describe('the default', () => {
  test('is under 5 % wherever another grouping of the same kind is, and else the least risky', () => {
    const seen = { fewest: 0, more: 0, hopeless: 0 };
    const cases = fc.record({
      units: fc.integer({ min: 2, max: 8 }),
      apply: fc.integer({ min: 2, max: 9 }),
      rinse: fc.integer({ min: 2, max: 9 }),
      max: fc.integer({ min: 22, max: 90 }),
      seat: fc.integer({ min: 10, max: 60 }),
      open: fc.integer({ min: 60, max: 400 }),
    });
    fc.assert(
      fc.property(cases, ({ units, ...paces }) => {
        const protocol = etchAndSeat(paces);
        const input = { spec: caseOf(TEN.slice(0, units)), protocol, tables: null };
        for (const { own, ways } of chances(input, makePlan(input))) {
          const least = Math.min(...ways.map(({ chance }) => chance));
          const isUnder = ways.some(({ chance }) => chance < 0.05);
          expect(own?.isUnder).toBe(isUnder);
          if (isUnder) expect(own?.pBroken).toBeLessThan(0.05);
          else expect(own?.pBroken).toBe(least);
          // As many groups as that takes, and not more.
          const at = ways.findIndex(({ sizes }) => sizes.length === own?.sizes.length);
          const fewer = ways.slice(0, at).filter(({ chance }) => chance < 0.05);
          expect(fewer).toEqual([]);
          if (!isUnder) seen.hopeless += 1;
          else if (at === 0) seen.fewest += 1;
          else seen.more += 1;
        }
      }),
      { seed: 12, numRuns: 25 },
    );
    // Each of the three happened.
    expect(Math.min(seen.fewest, seen.more, seen.hopeless)).toBeGreaterThan(0);
  }, 60_000);

  const spec = shippedCase('eight-upper-veneers');
  const input = { spec, protocol: shippedProtocol(), tables: shippedTables() };
  const full = makePlan(input);

  test('is told with what it costs against the fewest, and with what it risks', () => {
    const { careful } = full;
    expect(careful).toMatchObject({ riskMax: 0.05, samples: 2000 });
    const plain = regrouped(input, fewestPlan(spec, input.protocol, input.tables));
    const state = openingState({ ...input, plan: plain });
    const { chairMs } = projectCase({ state, nowMs: 0 }).timeline;
    expect(careful.priceMs).toBe(full.timeline.chairMs - chairMs);
    expect(careful.priceMs).toBeGreaterThan(0);
    for (const { limits, pBroken } of careful.groups) {
      const [only] = limits;
      if (limits.length === 1) expect(full.risk.pBrokenByWindow[only ?? '']).toBe(pBroken);
    }
  });

  test('is the same when a case is opened, planned, or planned with another seed', () => {
    const copy = (): CaseFile => structuredClone(spec);
    expect(makeRunPlan(copy(), input.protocol, input.tables)).toEqual(full.plan);
    const seeded = makePlan({ ...input, spec: copy(), risk: { seed: 77, samples: 300 } });
    expect(seeded.plan).toEqual(full.plan);
    expect(seeded.careful).toEqual(full.careful);
  });

  test('the clinic may ask for more or for less', () => {
    const sizes = (riskMax: number) => {
      const { plan } = makePlan({ ...input, spec: { ...spec, riskMax } });
      return sizesOf(plan.rounds['acid'] ?? []).length + plan.mixes.length;
    };
    expect(sizes(0.5)).toBeLessThan(sizes(0.05));
    expect(sizes(0.001)).toBeGreaterThan(sizes(0.05));
  });

  test('leaves alone what people chose', () => {
    const own = { ...spec, groups: { mixes: [8], rounds: { acid: [8], etch: [8] } } };
    const chosen = makePlan({ ...input, spec: own });
    expect(sizesOf(chosen.plan.mixes)).toEqual([8]);
    expect(chosen.careful).toMatchObject({ groups: [], priceMs: 0 });
    const one = compareAlternatives(input, full).find((a) => a.id === 'mixes/8');
    if (one === undefined) throw new Error('no such way');
    const kept = makePlan({ ...input, spec: adopted(spec, one) });
    expect(sizesOf(kept.plan.mixes)).toEqual([8]);
    expect(kept.careful.groups.map(({ kind }) => kind)).not.toContain('mixes');
  });

  test('says how each number that the draws decided came about', () => {
    const why = full.explanations.find(({ id }) => id === 'mixes');
    expect(why).toMatchObject({ decidedBy: 'draws', calc: null, value: [3, 3, 2] });
    expect(why?.inputs).toMatchObject({ fewest: [4, 4], riskMax: 0.05, draws: 2000 });
  });
});
