/**
 * The plan that a case is opened with: rounds, mixes and light. Whether a planned round really
 * keeps its bounds is asked of the engine, which knows nothing of the formula behind the plan.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fewestPlan, stepRounds } from '../../src/plan/grouping.ts';
import { makeExplainedPlan, makeRunPlan } from '../../src/plan/run-plan.ts';
import { Chair } from '../engine/chair.ts';
import {
  caseOf,
  confirm,
  dwell,
  expose,
  protocolOf,
  settingOf,
  step,
  window,
} from '../engine/fixture.ts';
import { follow } from '../engine/walks.ts';
import { firstTemplate, shippedCase } from './documents.ts';

const TEN = ['11', '21', '12', '22', '13', '23', '14', '24', '15', '25'];

const etchOnly = (o: { apply: number; rinse: number; min: number; target: number; max: number }) =>
  protocolOf([
    step('etch', 'tooth', dwell(o.min, o.target, o.max), { hands: [o.apply, o.rinse] }),
    step('dry', 'tooth', confirm, { after: ['etch'], together: true }),
  ]);

describe('rounds', () => {
  it.each([
    // Touching and rinsing alike, every dwell is alike: 7 x 4 = 28 s fit into 30 s, 8 x 4 do not.
    // Ten teeth need two rounds, as even as can be.
    { teeth: 10, apply: 4, rinse: 4, sizes: [5, 5] },
    { teeth: 8, apply: 4, rinse: 4, sizes: [4, 4] },
    { teeth: 7, apply: 4, rinse: 4, sizes: [7] },
    { teeth: 2, apply: 4, rinse: 4, sizes: [2] },
    // Rinsing 5 s, touching 3 s: tooth i dwells 20 + 2 i, so six fit into 30 s.
    { teeth: 10, apply: 3, rinse: 5, sizes: [5, 5] },
    { teeth: 6, apply: 3, rinse: 5, sizes: [6] },
    { teeth: 7, apply: 3, rinse: 5, sizes: [4, 3] },
    // Not even one tooth can be touched in time: each goes alone, and the breach will show.
    { teeth: 3, apply: 40, rinse: 4, sizes: [1, 1, 1] },
  ])('of $teeth teeth at $apply s and $rinse s have sizes $sizes', (row) => {
    const protocol = etchOnly({ ...row, min: 15, target: 20, max: 30 });
    const plan = fewestPlan(caseOf(TEN.slice(0, row.teeth)), protocol);
    expect(plan.rounds['etch']?.map((round) => round.length)).toEqual(row.sizes);
    expect(plan.rounds['etch']?.flat()).toEqual(TEN.slice(0, row.teeth).map((t) => `tooth:${t}`));
  });

  it('followed in the engine keep every dwell inside its bounds and as the formula says', () => {
    const pace = fc.record({
      teeth: fc.integer({ min: 1, max: 10 }),
      apply: fc.integer({ min: 1, max: 12 }),
      rinse: fc.integer({ min: 1, max: 12 }),
      min: fc.integer({ min: 5, max: 25 }),
      target: fc.integer({ min: 0, max: 15 }),
      max: fc.integer({ min: 0, max: 40 }),
    });
    const seen = { whole: 0, cut: 0 };
    fc.assert(
      fc.property(pace, ({ teeth, apply, rinse, min, target, max }) => {
        const bounds = { min, target: min + target, max: min + target + max };
        const setting = settingOf(etchOnly({ apply, rinse, ...bounds }), TEN.slice(0, teeth));
        const rounds = setting.plan.rounds['etch'] ?? [];
        fc.pre(bounds.max >= Math.max(apply, bounds.target));
        seen[rounds.length === 1 ? 'whole' : 'cut'] += 1;
        const chair = new Chair(setting);
        // Who follows presses an end when it is due and is then busy rinsing for `rinse` seconds.
        for (const [index, round] of rounds.entries()) {
          const startMs = chair.trueMs;
          round.forEach((tooth, i) => {
            const atMs = startMs + i * apply * 1000;
            chair.at(atMs).do(press('start', tooth));
          });
          const n = round.length;
          const lead = Math.max(0, (n - 1) * (apply - rinse));
          const first = Math.max(n * apply, bounds.target + lead);
          round.forEach((tooth, i) => {
            chair.at(startMs + (first + i * rinse) * 1000).do(press('end', tooth));
          });
          expect(chair.breaches, `round ${index} of ${JSON.stringify(rounds)}`).toEqual([]);
        }
        expect(chair.status(`etch@tooth:${TEN[teeth - 1]}`)).toBe('done');
      }),
      { numRuns: 200 },
    );
    expect(Math.min(seen.whole, seen.cut)).toBeGreaterThan(15);
  });

  it('followed by pressing what the bar offers stay inside the bounds too', () => {
    const protocol = etchOnly({ apply: 4, rinse: 4, min: 15, target: 20, max: 30 });
    const chair = new Chair(settingOf(protocol, TEN));
    follow(chair, 100);
    expect(chair.view.finished).toBe(true);
    expect(chair.breaches).toEqual([]);
  });

  it('have room for the largest round only: one tooth more would break a bound', () => {
    const protocol = etchOnly({ apply: 4, rinse: 4, min: 15, target: 20, max: 30 });
    const eight = TEN.slice(0, 8).map((t) => `tooth:${t}`);
    const chair = new Chair(settingOf(protocol, TEN.slice(0, 8), { rounds: { etch: [eight] } }));
    eight.forEach((tooth, i) => {
      chair.at(i * 4000).do(press('start', tooth));
    });
    eight.forEach((tooth, i) => {
      chair.at(32_000 + i * 4000).do(press('end', tooth));
    });
    expect(chair.breaches).toHaveLength(8);
  });

  it('are as people chose them where they did', () => {
    const [etch] = etchOnly({ apply: 4, rinse: 4, min: 15, target: 20, max: 30 }).steps;
    if (!etch) throw new Error('a step');
    expect(stepRounds(etch, ['a', 'b', 'c'], { chosen: [1, 2] })).toEqual([['a'], ['b', 'c']]);
  });
});

const press = (kind: 'start' | 'end', tooth: string) =>
  ({ do: 'press', offer: { kind, step: 'etch', subjects: [tooth] } }) as const;

describe('mixes', () => {
  const cement = (workingSeconds: number) =>
    protocolOf(
      [
        step('mixed', 'mix', confirm, { after: ['light/previous'], paceSeconds: 20 }),
        step('load', 'unit', confirm, { after: ['mixed/linked'], paceSeconds: 15 }),
        step('seat', 'unit', confirm, { after: ['load/same'], paceSeconds: 30 }),
        step('light', 'unit', expose({ surfaces: ['facial'], seconds: 5 }), {
          after: ['seat/same'],
        }),
      ],
      {
        windows: [
          window('working', 'mixed/end -> seat/end', {
            maxS: workingSeconds,
            match: 'linked',
            protects: 'working',
          }),
        ],
      },
    );

  it.each([
    // 45 s a unit; a tenth of the working time is kept in reserve.
    { working: 600, sizes: [8] }, // 540 s hold 12
    { working: 240, sizes: [4, 4] }, // 216 s hold 4
    { working: 160, sizes: [3, 3, 2] }, // 144 s hold 3
    { working: 55, sizes: [1, 1, 1, 1, 1, 1, 1, 1] },
  ])('with $working s of working time have sizes $sizes', ({ working, sizes }) => {
    const plan = fewestPlan(caseOf(TEN.slice(0, 8)), cement(working));
    expect(plan.mixes.map((mix) => mix.length)).toEqual(sizes);
    expect(plan.mixes.flat()).toEqual(plan.order);
  });

  it('followed in the engine are used up inside their working time', () => {
    for (const working of [120, 160, 240, 400]) {
      const chair = new Chair(settingOf(cement(working), TEN.slice(0, 8)));
      follow(chair, 200);
      expect(chair.view.finished).toBe(true);
      expect(chair.breaches, `${working} s`).toEqual([]);
    }
  });

  it('are none where the protocol mixes nothing', () => {
    const protocol = protocolOf([step('only', 'case', confirm)]);
    expect(fewestPlan(caseOf(['11']), protocol).mixes).toEqual([]);
  });
});

describe('the light of a plan without tables', () => {
  it('is never shorter than the time of the product, in one position', () => {
    const plan = makeRunPlan(shippedCase('two-veneers'), firstTemplate());
    const surfaces = plan.exposures['expose']?.['11'] ?? [];
    expect(surfaces.map((s) => s.surface)).toEqual(['facial', 'incisal', 'lingual']);
    for (const { setMs, positions } of surfaces) {
      expect(setMs).toBeGreaterThanOrEqual(10_000);
      expect(positions).toBe(1);
    }
  });
});

describe('every number of a plan', () => {
  it('comes with the figure it can be computed again with, and yields to the product', () => {
    const input = { spec: shippedCase('eight-upper-veneers'), protocol: firstTemplate() };
    const { value, why } = makeExplainedPlan({ ...input, tables: null });
    expect(value).toEqual(makeRunPlan(input.spec, input.protocol));
    expect(why.map((w) => w.id)).toContain('rounds/etch');
    expect(why.map((w) => w.id)).toContain('mixes');
    expect(why.every((w) => w.overruledBy === 'product-instructions')).toBe(true);
  });
});
