/**
 * The time of the acid by class of ceramic. Lithium disilicate from 20 s, no difference up to 120 s
 * (Puppin-Rontani, Oper Dent 2017;42:606), 60 s on edges under 0.5 mm (common practice); leucite 20 s
 * at least at 5 % (Braz Oral Res 2019;33); feldspathic 15 s was enough at 5 % (Head Face Med 2019;15),
 * 60 to 120 s at 10 % (Braz Oral Res 2020;34). Zirconia takes none: review PMC6784479.
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

const VENEERS: readonly Family[] = ['veneers, etch-and-rinse', 'veneers, universal'];

describe.each(VENEERS)('acid on %s', (family) => {
  it.each([
    ['lithium-disilicate', 0.5, 'about-5', [20, 20, 120]],
    ['lithium-disilicate', 0.4, 'about-5', [20, 20, 60]],
    ['lithium-disilicate', undefined, 'about-5', [20, 20, 60]],
    ['lithium-disilicate', 0.5, 'nine-to-ten', [20, 20, 60]],
    ['leucite', 0.5, 'about-5', [20, 60, 90]],
    // The limit equals the wanted 60 s, so that the hands come 10 s before it.
    ['leucite', 0.5, 'nine-to-ten', [20, 50, 60]],
    ['feldspathic', 0.5, 'about-5', [15, 60, 120]],
    ['feldspathic', 0.5, 'nine-to-ten', [60, 60, 120]],
  ])('of %s, %s mm, strength %s, is %s s', (material, thicknessMm, strength, times) => {
    const { spec, protocol } = chairOf(family, [material]).log.state.opened;
    const units = spec.units.map(({ thicknessMm: _, ...unit }) => ({
      ...unit,
      ...(thicknessMm === undefined ? {} : { thicknessMm }),
    }));
    const choices = { 'acid-strength': strength };
    const chair = new FamilyChair({ spec: { ...spec, units, choices }, protocol }).toTheEnd();
    const asked = acidOf(chair).map((s) => [s.asked.minMs, s.asked.targetMs, s.asked.maxMs]);
    expect(asked.length).toBeGreaterThan(1);
    for (const each of asked) expect(each).toEqual(times.map((s) => s * 1000));
    expect(chair.log.state.breaches).toEqual([]);
  });

  it.each(['etched', 'etched-and-silanated'] as const)(
    'is never given to a unit that came %s: it is cleaned with phosphoric acid and primed',
    (conditioned) => {
      const { spec, protocol } = chairOf(family, CLASSES).log.state.opened;
      const units = spec.units.map((unit) => ({ ...unit, conditioned }));
      const chair = new FamilyChair({ spec: { ...spec, units }, protocol }).toTheEnd();
      expect(chair.view.finished).toBe(true);
      const steps = recordFacts(sourceOf(chair.log)).steps;
      const of = (id: string) => steps.filter((s) => s.step === id).length;
      expect([of('acid'), of('calcium-gel'), of('units-rinsed')]).toEqual([0, 0, 0]);
      expect([of('units-cleaned'), of('primer')]).toEqual([units.length, units.length]);
      const cleaned = steps.find((s) => s.step === 'units-cleaned')?.asked;
      // Common practice of 20 to 60 s; 30 s of 35 % acid: Stoma Edu J 2019;6:18.
      expect([cleaned?.minMs, cleaned?.targetMs, cleaned?.maxMs]).toEqual([20e3, 30e3, 60e3]);
    },
  );
});

describe.each(ACID)('acid on %s', (family) => {
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
    while (!chair.log.state.runs['acid@unit:11']) {
      if (chair.next() === null) throw new Error('no acid');
    }
    chair.atMs += 10_000;
    const offer = { kind: 'end', step: 'acid', subjects: ['unit:11'] } as const;
    expect(chair.do({ do: 'press', offer })).toBeNull();
    const short = chair.log.state.breaches.map((b) => [b.kind, b.of, b.subject, b.by > 5000]);
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
