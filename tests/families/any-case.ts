/** Cases of every family in shapes that the prepared ones do not have, with every answer in turn. */
import { present } from '../../src/base/assert.ts';
import { deepFreeze } from '../../src/base/freeze.ts';
import { makeRunPlan } from '../../src/plan/run-plan.ts';
import type { CaseFile, Unit } from '../../src/protocol/case-types.ts';
import { CONDITIONED, PROVISIONALS, SUBSTRATES } from '../../src/protocol/vocabulary.ts';
import type { Setting } from '../engine/fixture.ts';
import { caseNamed, FAMILIES, type Family, protocolNamed } from './family-chair.ts';

const one = (tooth: string, restoration: string, material: string): Unit => ({
  id: tooth,
  teeth: [tooth],
  restoration,
  material,
});
const bridge = { id: 'b', teeth: ['13', '11'], pontics: ['12'] } as const;
const bonded: Unit = { ...bridge, restoration: 'bridge', material: 'zirconia' };
const wing: Unit = { ...bonded, id: 'w', teeth: ['31'], pontics: ['32'] };

/** Shapes of a case that the prepared ones do not have. */
export const SHAPES: readonly (readonly [name: string, family: Family, units: readonly Unit[]])[] =
  [
    ['one veneer', 'veneers, etch-and-rinse', [one('11', 'veneer', 'leucite')]],
    [
      'veneers of three classes',
      'veneers, etch-and-rinse',
      [
        one('13', 'veneer', 'leucite'),
        one('11', 'veneer', 'lithium-disilicate'),
        one('21', 'veneer', 'feldspathic'),
      ],
    ],
    [
      'lower veneers',
      'veneers, universal',
      ['33', '31', '41', '43'].map((t) => one(t, 'veneer', 'lithium-disilicate')),
    ],
    ['a bridge and a molar', 'zirconia', [bonded, one('36', 'crown', 'zirconia')]],
    ['a wing', 'zirconia', [wing]],
    [
      'both jaws, two classes',
      'glass-ceramic',
      [one('46', 'crown', 'lithium-disilicate'), one('15', 'onlay', 'feldspathic')],
    ],
    ['one inlay', 'composite', [one('46', 'inlay', 'resin-composite')]],
    ['a finished bridge', 'finishing', [bonded]],
    ['the preparation of a wing', 'preparation', [wing]],
  ];

/** One of a list after the other. */
function inTurn<T>(list: readonly T[], i: number): T {
  return present(list[i % list.length], 'one of the list');
}

export function settingOf(family: Family, units: readonly Unit[]): Setting {
  const teeth = units.flatMap((unit) => unit.teeth);
  const spec: CaseFile = {
    ...caseNamed(FAMILIES[family]),
    units: units.map((unit, i) => ({ ...unit, conditioned: inTurn(CONDITIONED, i) })),
    // Every answer in turn, so that two clocks, seals and teeth without enamel are walked too.
    teeth: teeth.map((tooth, i) => ({
      tooth,
      substrate: i % 2 === 0 ? [inTurn(SUBSTRATES, i + 1)] : ['enamel', 'dentine-shows'],
      provisional: inTurn(PROVISIONALS, i + 1),
    })),
  };
  const protocol = protocolNamed(spec.protocol);
  return deepFreeze({ spec, protocol, plan: makeRunPlan(spec, protocol) });
}
