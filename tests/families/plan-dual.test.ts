/** Every way to do the excess has an order in which all of it can be planned, in either jaw and either direction. */
import { describe, expect, it } from 'vitest';
import { makePlan } from '../../src/plan/make-plan.ts';
import type { CaseFile } from '../../src/protocol/case-types.ts';
import { DUAL } from './dual-cases.ts';
import { caseNamed, FAMILIES, protocolNamed } from './family-chair.ts';

const WAYS: readonly CaseFile['choices'][] = [
  {},
  { 'excess-order': 'mix-by-mix' },
  { 'excess-way': 'tack-and-peel', cord: 'with-agent' },
  { 'adhesive-route': 'cement-primer', cord: 'plain' },
];

const cases = DUAL.flatMap((family) =>
  WAYS.flatMap((choices = {}) => [
    { family, choices, from: 'front to back' },
    { family, choices, from: 'back to front' },
  ]),
);

describe.each(cases)('$family, $choices, $from', ({ family, choices, from }) => {
  it('has an order in which everything can be planned', () => {
    const spec = caseNamed(FAMILIES[family]);
    const units = from === 'front to back' ? spec.units : spec.units.toReversed();
    const own: CaseFile = { ...spec, units, choices };
    const protocol = protocolNamed(spec.protocol);
    const { timeline } = makePlan({
      spec: own,
      protocol,
      tables: null,
      risk: { samples: 1 },
    });
    const seated = timeline.bars.filter(({ step }) => step === 'seat').length;
    expect(seated).toBe(units.length);
  });
});
