/**
 * The dual-cured families played whole for teeth and units that the prepared cases do not have, by
 * pressing what is offered at the pace of the hands: every limit is kept and the case can be closed.
 */
import { describe, expect, it } from 'vitest';
import type { CaseFile, Unit } from '../../src/protocol/case-types.ts';
import type { ToothFacts } from '../../src/protocol/facts.ts';
import { DUAL, type Dual } from './dual-cases.ts';
import { caseNamed, FAMILIES, FamilyChair, protocolNamed } from './family-chair.ts';

interface Odd {
  readonly name: string;
  readonly only?: Dual;
  readonly teeth?: Omit<ToothFacts, 'tooth'>;
  readonly unit?: Partial<Unit>;
  readonly choices?: CaseFile['choices'];
}

const ODD: readonly Odd[] = [
  { name: 'no enamel at any margin', teeth: { substrate: ['no-enamel-margin'] } },
  {
    name: 'no enamel, a short etch chosen',
    teeth: { substrate: ['no-enamel-margin'] },
    choices: { 'no-enamel-etch': 'short-etch' },
  },
  { name: 'metal and a build-up', teeth: { substrate: ['enamel', 'build-up', 'metal'] } },
  { name: 'unknown provisional cement', teeth: { provisional: 'unknown' } },
  { name: 'units etched and silanated before', unit: { conditioned: 'etched-and-silanated' } },
  { name: 'units abraded before', unit: { conditioned: 'abraded' } },
  { name: 'cord with astringent', choices: { cord: 'with-agent' } },
  { name: 'plain cord', choices: { cord: 'plain' } },
  { name: 'activator mixed in', choices: { 'adhesive-route': 'dual-paired' } },
  { name: 'primer of the cement', choices: { 'adhesive-route': 'cement-primer' } },
  { name: 'tacked and peeled', choices: { 'excess-way': 'tack-and-peel' } },
  { name: 'acid of 9 to 10 %', only: 'glass-ceramic', choices: { 'acid-strength': 'nine-to-ten' } },
  { name: 'feldspathic', only: 'glass-ceramic', unit: { material: 'feldspathic' } },
  { name: 'leucite', only: 'glass-ceramic', unit: { material: 'leucite' } },
];

const bridge: Unit = {
  id: 'b',
  teeth: ['13', '11'],
  pontics: ['12'],
  restoration: 'bridge',
  material: 'zirconia',
  conditioned: 'no',
};

function played(family: Dual, change: (spec: CaseFile) => CaseFile): FamilyChair {
  const whole = caseNamed(FAMILIES[family]);
  const spec = change(whole);
  return new FamilyChair({ spec, protocol: protocolNamed(spec.protocol) }).toTheEnd();
}

function expectKept(chair: FamilyChair): void {
  expect(chair.log.state.breaches.map(({ kind, of, by }) => [kind, of, by])).toEqual([]);
  expect(chair.view.finished).toBe(true);
  expect(chair.close()).toBeNull();
}

describe.each(DUAL)('%s', (family) => {
  it.each(ODD.filter(({ only = family }) => only === family))('$name', (odd) => {
    const chair = played(family, (spec) => ({
      ...spec,
      units: spec.units.map((unit) => ({ ...unit, ...odd.unit })),
      teeth: (spec.teeth ?? []).map((tooth) => ({ ...tooth, ...odd.teeth })),
      choices: odd.choices ?? {},
    }));
    expectKept(chair);
  });
});

describe('a bridge with two retainers', () => {
  it('is tacked and exposed on both, flossed under its pontic twice, and never inside itself', () => {
    const teeth: readonly ToothFacts[] = ['13', '11'].map((tooth) => ({
      tooth,
      substrate: ['enamel'],
      provisional: 'none',
    }));
    const chair = played('zirconia', (spec) => ({ ...spec, units: [bridge], teeth }));
    expectKept(chair);
    const done = Object.keys(chair.log.state.runs);
    const of = (step: string) => done.filter((key) => key.startsWith(`${step}@`)).toSorted();
    for (const step of ['tack', 'expose', 'bond-light'])
      expect(of(step)).toEqual([`${step}@tooth:11`, `${step}@tooth:13`]);
    expect(of('pontic-flossed')).toEqual(['pontic-flossed@unit:b']);
    expect(of('pontic-again')).toEqual(['pontic-again@unit:b']);
    expect(of('contacts-flossed')).toEqual([
      'contacts-flossed@contact:11-21',
      'contacts-flossed@contact:14-13',
    ]);
  });
});
