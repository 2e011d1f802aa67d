/**
 * The time of the acid by class of ceramic, at 5 %: lithium disilicate 20 s at least (Puppin-Rontani,
 * Oper Dent 2017;42:606), feldspathic 60 to 120 s (Braz Oral Res 2020;34), leucite 60 s (commonly
 * taught, from memory). Zirconia takes none: review PMC6784479.
 */
import { describe, expect, it } from 'vitest';
import { recordFacts } from '../../src/export/record-facts.ts';
import { checkCaseFits } from '../../src/protocol/check-materials.ts';
import { unconfirmedFigures } from '../../src/protocol/edit-types.ts';
import { sourceOf } from '../export/journals.ts';
import { caseNamed, FAMILIES, type Family, FamilyChair, protocolNamed } from './family-chair.ts';

const ACID: readonly Family[] = ['veneers, etch-and-rinse', 'veneers, universal', 'glass-ceramic'];
const CLASSES = ['lithium-disilicate', 'leucite', 'feldspathic'];

/** The family's case with units of these materials in turn. */
function chairOf(family: Family, materials: readonly string[]): FamilyChair {
  const spec = caseNamed(FAMILIES[family]);
  const units = spec.units.map((unit, i) => ({
    ...unit,
    material: materials[i % materials.length] ?? '',
  }));
  return new FamilyChair({ spec: { ...spec, units }, protocol: protocolNamed(spec.protocol) });
}

const acidOf = (chair: FamilyChair) =>
  recordFacts(sourceOf(chair.log)).steps.filter((s) => s.step === 'acid');

describe.each(ACID)('acid on %s', (family) => {
  it.each([
    ['lithium-disilicate', 20, 30, 60],
    ['leucite', 60, 60, 90],
    ['feldspathic', 60, 60, 120],
  ])('takes %s from %s s, wants %s s, at most %s s', (material, min, target, max) => {
    const chair = chairOf(family, [material]).toTheEnd();
    const asked = acidOf(chair).map((s) => [s.asked.minMs, s.asked.targetMs, s.asked.maxMs]);
    expect(asked.length).toBeGreaterThan(1);
    for (const each of asked) expect(each).toEqual([min, target, max].map((s) => s * 1000));
    expect(chair.log.state.breaches).toEqual([]);
  });

  it('asks the clinic lead to confirm the times of each class', () => {
    const { protocol } = chairOf(family, CLASSES).log.state.opened;
    const keys = unconfirmedFigures(protocol).map((f) => f.spot.key);
    expect(keys.filter((k) => k.startsWith('action.byMaterial.')).toSorted()).toEqual(
      ['feldspathic', 'leucite'].flatMap((m) =>
        ['maxMs', 'minMs', 'targetMs'].map((name) => `action.byMaterial.${m}.${name}`),
      ),
    );
  });
});

describe('a case of two ceramics', () => {
  it('keeps each to its own time and in a round of its own, inside every bound', () => {
    const chair = chairOf('veneers, universal', ['lithium-disilicate', 'leucite']).toTheEnd();
    const { state } = chair.log;
    expect(state.plan.rounds['acid']).toEqual([
      ['unit:11', 'unit:12'],
      ['unit:21', 'unit:22'],
    ]);
    expect(state.breaches).toEqual([]);
    const took = acidOf(chair).map((s) => [s.subject, (s.elapsed?.loMs ?? 0) >= 60_000]);
    expect(took).toEqual([
      ['unit:11', false],
      ['unit:21', true],
      ['unit:12', false],
      ['unit:22', true],
    ]);
  });

  it('is short by the time of its own class', () => {
    const chair = chairOf('veneers, universal', ['leucite']);
    while (!chair.log.state.runs['acid@unit:11']) chair.next();
    chair.atMs += 30_000;
    const offer = { kind: 'end', step: 'acid', subjects: ['unit:11'] } as const;
    expect(chair.do({ do: 'press', offer })).toBeNull();
    const short = chair.log.state.breaches.map((b) => [b.kind, b.of, b.subject, b.by > 20_000]);
    expect(short).toContainEqual(['short', 'acid', 'unit:11', true]);
  });
});

describe('zirconia', () => {
  it.each(ACID)('is refused on %s, with the reason', (family) => {
    const { spec, protocol } = chairOf(family, ['zirconia']).log.state.opened;
    const found = checkCaseFits(spec, protocol);
    expect(found.map((f) => [f.code, f.values['reason']])).toContainEqual([
      'material-not-in-protocol',
      'acid-on-zirconia',
    ]);
  });
});
