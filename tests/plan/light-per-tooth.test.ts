/**
 * A bridge whose retainers are tacked and exposed each by itself: plan, walk, rests, record and words
 * by tooth, the facts of the unit on each of them. That one loose retainer goes unnoticed is a rule of
 * the trade; no study of light on two-retainer units was found.
 */
import { describe, expect, test } from 'vitest';
import { exposureLines } from '../../src/cli/plan-words.ts';
import { recordFacts } from '../../src/export/record-facts.ts';
import { makePlan } from '../../src/plan/make-plan.ts';
import { makeRunPlan } from '../../src/plan/run-plan.ts';
import type { CaseFile } from '../../src/protocol/case-types.ts';
import { lightLine } from '../../src/ui/chair/light-line-model.ts';
import { explainedWhat } from '../../src/words/plan-words.ts';
import { Chair } from '../engine/chair.ts';
import { caseOf, expose, protocolOf, step } from '../engine/fixture.ts';
import { sourceOf } from '../export/journals.ts';
import { shippedTables } from './shipped.ts';

const tables = shippedTables();
const action = expose({ surfaces: ['facial', 'lingual'], seconds: 10 });
const dose = { doseJPerCm2: { value: 8, basis: { kind: 'practice' } } } as const;
const protocol = protocolOf([
  step('tack', 'tooth', expose({ surfaces: ['facial'], seconds: 3 })),
  step('expose', 'tooth', { ...action, ...dose } as typeof action, { after: ['tack'] }),
]);

/** A bridge from 13 to 15 over 14, and a crown on 11. Its id is that of one retainer. */
const spec: CaseFile = {
  ...caseOf(['13', '11']),
  units: [
    {
      id: '13',
      teeth: ['13', '15'],
      pontics: ['14'],
      restoration: 'bridge',
      material: 'lithium-disilicate',
      thicknessMm: 1,
    },
    {
      id: '11',
      teeth: ['11'],
      restoration: 'crown',
      material: 'lithium-disilicate',
      thicknessMm: 0.5,
    },
  ],
};
const bridge: CaseFile = { ...spec, light: { ...spec.light, tipDiameterMm: 11 } };
const plan = makeRunPlan(bridge, protocol, tables);

describe('a step that lights teeth', () => {
  test('is planned by tooth, with the facts of its unit', () => {
    expect(Object.keys(plan.exposures['expose'] ?? {}).sort()).toEqual(['11', '13', '15']);
    const facial = (tooth: string) => plan.exposures['expose']?.[tooth]?.[0];
    // 8 J/cm2 behind 1.0 mm at 1200 mW/cm2 take 25.7 s, behind 0.5 mm 13.3 s.
    expect(facial('13')?.setMs).toBe(30_000);
    expect(facial('15')?.setMs).toBe(30_000);
    expect(facial('11')?.setMs).toBe(15_000);
    expect(plan.restMs?.['expose']).toEqual({ '13': 20_000, '15': 20_000, '11': 20_000 });
  });

  test('counts places on its own tooth, not on the largest of the unit', () => {
    const small = { ...bridge, light: { ...bridge.light, tipDiameterMm: 8 } };
    const places = (per: 'tooth' | 'unit', id: string) => {
      const own = protocolOf([step('expose', per, { ...action, ...dose } as typeof action)]);
      return makeRunPlan(small, own, tables).exposures['expose']?.[id]?.[0]?.positions;
    };
    // A face of 7.5 x 10 mm needs two places of a tip of 8 mm, one of 7 x 8.5 mm one.
    expect(places('tooth', '13')).toBe(2);
    expect(places('tooth', '15')).toBe(1);
    expect(places('unit', '13')).toBe(2);
  });

  test('is heat on each tooth, named by it', () => {
    const full = makePlan({ spec: bridge, protocol, tables, risk: { samples: 10 } });
    expect(full.heat.map((h) => h.subject)).toEqual(['tooth:13', 'tooth:15', 'tooth:11']);
    const naming = { spec: bridge, protocol };
    const told = full.explanations
      .filter((e) => e.id.startsWith('exposure/expose/15/') || e.id.startsWith('heat/'))
      .map((e) => explainedWhat(e, naming));
    expect(told.some((words) => words.includes('15, facial'))).toBe(true);
    expect(told.join('\n')).not.toContain('13–15');
    const lines = exposureLines(full, protocol, bridge);
    // Teeth that receive the same are told in one line, every one of them by its own name.
    const teeth = lines
      .filter((line) => line.startsWith('"expose", tooth '))
      .flatMap((line) => (line.split(':')[0] ?? '').replace('"expose", tooth ', '').split(' '));
    expect(teeth.toSorted()).toEqual(['11', '13', '15']);
  });

  test('is walked, given, shown and recorded by tooth', () => {
    const chair = new Chair({ spec: bridge, protocol, plan });
    const went: string[] = [];
    for (let presses = 0; presses < 40 && !chair.view.finished; presses += 1) {
      const due = Math.max(0, chair.view.offers[0]?.dueInMs ?? 0);
      const offer = chair.at(chair.trueMs + due).next();
      if (offer.kind !== 'light-off')
        went.push(`${offer.step} ${offer.subjects.join()} ${offer.surface}`);
    }
    expect(chair.view.finished).toBe(true);
    expect(went.slice(0, 3)).toEqual([
      'tack tooth:13 facial',
      'tack tooth:15 facial',
      'tack tooth:11 facial',
    ]);
    // One surface a tooth in turn.
    expect(went.slice(3, 6)).toEqual([
      'expose tooth:13 facial',
      'expose tooth:15 facial',
      'expose tooth:11 facial',
    ]);
    const surfaces = chair.view.teeth.map((t) => [t.tooth, t.surfaces.map((s) => s.setMs)]);
    expect(surfaces).toEqual([
      ['13', [30_000, 30_000]],
      ['15', [30_000, 30_000]],
      ['11', [15_000, 15_000]],
    ]);
    expect(chair.view.teeth.every((t) => t.surfaces.every((s) => s.state === 'done'))).toBe(true);
    expect(chair.breaches).toEqual([]);
    const facts = recordFacts(sourceOf(chair.log));
    const given = facts.steps.filter((s) => s.step === 'expose');
    expect(given.map((s) => [s.subject, s.teeth, s.surfaces.map((x) => x.givenMs)])).toEqual([
      ['tooth:13', ['13'], [30_000, 30_000]],
      ['tooth:15', ['15'], [30_000, 30_000]],
      ['tooth:11', ['11'], [15_000, 15_000]],
    ]);
  });

  test('the chair says the seconds before the press and why', () => {
    const chair = new Chair({ spec: bridge, protocol, plan });
    const line = () => lightLine({ view: chair.view, log: chair.log });
    expect(line()).toBe('3 s: the product’s own time');
    for (let presses = 0; presses < 20 && chair.view.offers[0]?.step === 'tack'; presses += 1) {
      chair.at(chair.trueMs + Math.max(0, chair.view.offers[0].dueInMs)).next();
    }
    expect(line()).toBe('30 s: 25.7 s for 8 J/cm² behind 1 mm, next programme');
  });
});
