/**
 * What light may not pass: 40 J/cm2 at the tip in one exposure, 40 s a place, 60 s a surface, and the
 * marker of 5.5 C near the pulp. Derived from Oper Dent 2010;35:220 (5.5 C in vitro at 44 to 59 J/cm2)
 * and Zarpellon et al. (3.4 C at 48 J/cm2 in vivo); the marker from Zach & Cohen 1965.
 */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { checkCase, isLightCured, lightFindings } from '../../src/plan/check-light.ts';
import { checkDocument } from '../../src/plan/check-windows.ts';
import { makePlan } from '../../src/plan/make-plan.ts';
import { makeExplainedPlan, makeRunPlan } from '../../src/plan/run-plan.ts';
import type { CaseFile, Unit } from '../../src/protocol/case-types.ts';
import type { Protocol } from '../../src/protocol/types.ts';
import { caseOf, expose, protocolOf, step } from '../engine/fixture.ts';
import { shippedTables } from './shipped.ts';

const tables = shippedTables();
const SURFACES = ['facial', 'incisal', 'mesial', 'distal', 'lingual'] as const;

/** A tack, and an exposure of all surfaces for the longer of a product's time and a dose. */
function lit(o: {
  readonly productSeconds: number;
  readonly doseJPerCm2: number | null;
}): Protocol {
  const action = expose({ surfaces: SURFACES, seconds: o.productSeconds });
  const dose =
    o.doseJPerCm2 === null
      ? {}
      : { doseJPerCm2: { value: o.doseJPerCm2, basis: { kind: 'practice' } } as const };
  return protocolOf([
    step('tack', 'unit', expose({ surfaces: ['facial'], seconds: 3, walk: 'by-unit' })),
    step('expose', 'unit', { ...action, ...dose } as typeof action, { after: ['tack'] }),
  ]);
}

const DOSED = lit({ productSeconds: 10, doseJPerCm2: 8 });
const DUAL = lit({ productSeconds: 20, doseJPerCm2: null });

function caseWith(more: Partial<Unit>, light: Partial<CaseFile['light']> = {}): CaseFile {
  const spec = caseOf(['11', '21']);
  const units = spec.units.map((u) => ({ ...u, material: 'lithium-disilicate', ...more }));
  return { ...spec, units, light: { ...spec.light, tipDiameterMm: 11, ...light } };
}

const limitOf = (spec: CaseFile, protocol = DOSED) =>
  makeExplainedPlan({ spec, protocol, tables }).why.find(
    (e) => e.id === 'exposure/expose/11/facial',
  )?.limit;

describe('past a ceiling the cause and the way out are named', () => {
  test('2 mm of ceramic: another cement, not minutes', () => {
    const spec = caseWith({ thicknessMm: 2 });
    expect(limitOf(spec)).toMatchObject({
      code: 'dose-not-reached',
      cause: 'ceramic',
      wayOut: 'dual-cured-cement',
    });
    const plan = makeRunPlan(spec, DOSED, tables);
    expect(plan.exposures['expose']?.['11']?.[0]?.setMs).toBe(40_000);
  });

  // 8 J/cm2 through one half at 300 mW/cm2 take 53 s; at 1200 mW/cm2 13.3 s.
  test('a weak lamp: another lamp', () => {
    expect(limitOf(caseWith({ thicknessMm: 0.5 }, { irradianceMwPerCm2: 300 }))).toMatchObject({
      cause: 'lamp',
      wayOut: 'another-lamp',
    });
  });

  test('a lamp whose shortest programme is over 40 J/cm2: another lamp', () => {
    const lamp = { irradianceMwPerCm2: 3000, programmesS: [20] };
    expect(limitOf(caseWith({ thicknessMm: 0.5 }, lamp))).toMatchObject({ cause: 'lamp' });
  });

  // 8 J/cm2 through 0.26 at 1200 mW/cm2 take 25.6 s; three places of a tip of 7 mm would be 90 s.
  test('a tip too small for the surface: a wider one', () => {
    expect(limitOf(caseWith({ thicknessMm: 1 }, { tipDiameterMm: 7 }))).toMatchObject({
      cause: 'tip',
      wayOut: 'wider-tip',
    });
  });

  test('a time of the product past a ceiling stays, and is a finding for the lead', () => {
    const long = lit({ productSeconds: 60, doseJPerCm2: null });
    const spec = caseWith({ thicknessMm: 0.5 });
    expect(limitOf(spec, long)).toMatchObject({ code: 'product-time-over', cause: 'product' });
    const plan = makeRunPlan(spec, long, tables).exposures['expose']?.['11']?.[0];
    // 60 s at 1200 mW/cm2 are 72 J/cm2: two exposures of 36.
    expect(plan).toMatchObject({ setMs: 60_000, presses: [30_000, 30_000] });
    const found = checkDocument(long).filter((f) => f.code === 'product-light-over');
    expect(found.map((f) => [f.level, f.place])).toEqual([
      ['caution', 'protocol.steps[1].action.perSurfaceMs.value'],
    ]);
    expect(checkDocument(DUAL).some((f) => f.code === 'product-light-over')).toBe(false);
  });
});

describe('how thick a unit may be over a cement that sets by light alone', () => {
  const levelOf = (more: Partial<Unit>, protocol: Protocol = DOSED) =>
    lightFindings({ spec: caseWith(more), protocol, tables })
      .filter((f) => f.code.startsWith('light-cured'))
      .map((f) => f.level)[0] ?? 'none';

  // Glass ceramics: Int J Prosthodont 2016;29:384 and J Appl Oral Sci 2017;25:61; composite and
  // zirconia from their published shares. The limits are rules of the trade.
  test.each([
    ['lithium-disilicate', 'high-translucency', 1, 'none'],
    ['lithium-disilicate', 'low-translucency', 1.1, 'caution'],
    ['feldspathic', undefined, 1.5, 'caution'],
    ['leucite', undefined, 1.6, 'error'],
    ['lithium-disilicate', 'medium-opacity', 0.5, 'none'],
    ['lithium-disilicate', 'medium-opacity', 0.6, 'caution'],
    ['lithium-disilicate', 'opaque', 1, 'caution'],
    ['lithium-disilicate', 'opaque', 1.1, 'error'],
    ['resin-composite', undefined, 1.5, 'none'],
    ['resin-composite', undefined, 1.6, 'caution'],
    ['resin-composite', undefined, 2.1, 'error'],
    ['zirconia', undefined, 0.3, 'caution'],
    ['zirconia', undefined, 0.5, 'caution'],
    ['zirconia', undefined, 0.6, 'error'],
    ['unknown', undefined, 0.5, 'none'],
    ['unknown', undefined, 1.1, 'error'],
  ] as const)('%s, %s, %f mm: %s', (material, opacity, thicknessMm, level) => {
    const more = { material, thicknessMm, ...(opacity === undefined ? {} : { opacity }) };
    expect(levelOf(more)).toBe(level);
    expect(levelOf(more, DUAL)).toBe('none');
  });

  test('zirconia of unknown thickness is cautioned too', () => {
    expect(levelOf({ material: 'zirconia' })).toBe('caution');
  });

  test('a cement is light-cured by its dose or by the class of its slot', () => {
    expect(isLightCured(DOSED)).toBe(true);
    expect(isLightCured(DUAL)).toBe(false);
    const slot = { id: 'cement', label: 'Cement', refrigerated: false } as const;
    const ofClass = (materialClass: string): boolean =>
      isLightCured({ ...DUAL, slots: [{ ...slot, materialClass }] });
    expect(ofClass('light-cured resin cement')).toBe(true);
    expect(ofClass('dual-cured resin cement, two pastes in one syringe')).toBe(false);
    expect(ofClass('light-cured gingival barrier')).toBe(false);
  });

  test('a unit too thick is told once, and not again for its dose', () => {
    const codes = checkCase({ spec: caseWith({ thicknessMm: 2 }), protocol: DOSED, tables }).map(
      (f) => f.code,
    );
    expect(codes.filter((c) => c.startsWith('light-'))).toEqual([
      'light-cured-too-thick',
      'light-cured-too-thick',
    ]);
  });

  test('a plan carries what set-up finds', () => {
    const spec = caseWith({ thicknessMm: 2 });
    const plan = makePlan({ spec, protocol: DOSED, tables, risk: { samples: 10 } });
    expect(plan.findings).toEqual(checkCase({ spec, protocol: DOSED, tables }));
  });
});

describe('a tooth rests', () => {
  // Five exposures of 20 s at 1200 mW/cm2 warm by 5.2 C with rests of 20 s: 1.7 C each (3.4 C at 48
  // J/cm2), falling to 37 % in 140 s.
  test('20 s where that is enough for the marker', () => {
    const spec = caseWith({}, { irradianceMwPerCm2: 1200 });
    expect(makeRunPlan(spec, DUAL, tables).restMs).toEqual({
      expose: { '11': 20_000, '21': 20_000 },
    });
  });

  test('longer under a stronger lamp, until the marker is not reached', () => {
    const spec = caseWith({}, { irradianceMwPerCm2: 1600 });
    const rest = makeRunPlan(spec, DUAL, tables).restMs?.['expose']?.['11'] ?? 0;
    expect(rest).toBeGreaterThan(20_000);
    const { heat } = makePlan({ spec, protocol: DUAL, tables, risk: { samples: 10 } });
    expect(heat.map((h) => h.level)).not.toContain('above-marker');
  });

  test('a longer rest of the protocol stays', () => {
    const rested = protocolOf([
      step(
        'expose',
        'unit',
        expose({ surfaces: ['facial', 'lingual'], seconds: 10, restSeconds: 60 }),
      ),
    ]);
    expect(makeRunPlan(caseOf(['11']), rested).restMs).toEqual({ expose: { '11': 60_000 } });
  });
});

describe('whatever the case', () => {
  const mm = fc.integer({ min: 2, max: 30 }).map((tenths) => tenths / 10);
  const lists = fc.constantFrom(undefined, [3, 5, 10, 15, 20, 30, 40], [5, 10, 20], [3, 10]);
  const cases = fc.record({
    material: fc.constantFrom('lithium-disilicate', 'leucite', 'resin-composite', 'zirconia', 'x'),
    opacity: fc.constantFrom('high-translucency', 'low-translucency', 'opaque'),
    thicknessMm: mm,
    irradianceMwPerCm2: fc.integer({ min: 200, max: 3500 }),
    tipDiameterMm: fc.integer({ min: 5, max: 13 }),
    programmesS: lists,
    doseJPerCm2: fc.constantFrom(6, 8, 16, null),
    productSeconds: fc.constantFrom(5, 10, 20, 40),
    teeth: fc.constantFrom(['11'], ['11', '21'], ['13', '12', '11'], ['16', '36']),
  });

  type Drawn = typeof cases extends fc.Arbitrary<infer T> ? T : never;

  function setting(o: Drawn) {
    const { material, opacity, thicknessMm, programmesS } = o;
    const spec = caseOf(o.teeth);
    const units = spec.units.map((u) => ({ ...u, material, opacity, thicknessMm }));
    const { irradianceMwPerCm2, tipDiameterMm } = o;
    const light = {
      ...spec.light,
      irradianceMwPerCm2,
      tipDiameterMm,
      ...(programmesS === undefined ? {} : { programmesS }),
    };
    return { spec: { ...spec, units, light }, protocol: lit(o) };
  }

  test('no exposure is over its ceiling or off the list of the lamp', () => {
    fc.assert(
      fc.property(cases, (o) => {
        const { spec, protocol } = setting(o);
        const plan = makeRunPlan(spec, protocol, tables);
        const ownMs = o.productSeconds * 1000;
        for (const surface of Object.values(plan.exposures['expose'] ?? {}).flat()) {
          const presses = surface.presses ?? [surface.setMs];
          expect(presses.reduce((a, b) => a + b, 0)).toBeCloseTo(surface.setMs, 0);
          for (const ms of presses) {
            expect((ms * o.irradianceMwPerCm2) / 1e6).toBeLessThanOrEqual(40 + 1e-3);
            const isOwn = surface.decidedBy === 'product';
            // A product's time that gels the excess is stopped by hand where no programme is as short.
            const isTack = isOwn && o.productSeconds <= 5;
            if (o.programmesS !== undefined && !isTack) expect(o.programmesS).toContain(ms / 1000);
            if (o.programmesS === undefined && !isOwn) expect(ms % 5000).toBe(0);
          }
          // The longest product time drawn is 40 s; the ceiling of a surface is the plan's own.
          if (surface.decidedBy === 'product') {
            expect(surface.setMs).toBeGreaterThanOrEqual(ownMs - 1);
            continue;
          }
          expect(presses.length).toBeLessThanOrEqual(2);
          expect(surface.setMs).toBeLessThanOrEqual(40_000);
          expect(surface.setMs * surface.positions).toBeLessThanOrEqual(60_000);
        }
      }),
      { seed: 1207, numRuns: 300 },
    );
  });

  test('a dose that is not told as missed is reached', () => {
    fc.assert(
      fc.property(cases, (o) => {
        const { spec, protocol } = setting(o);
        const { why } = makeExplainedPlan({ spec, protocol, tables });
        for (const time of why.filter((e) => e.formula === 'longest-exposure-time')) {
          const dose = why.find((e) => e.id === `${time.id}/dose`);
          if (dose === undefined || time.limit !== undefined) continue;
          expect(Number(time.value)).toBeGreaterThanOrEqual(Number(dose.value) - 1e-3);
        }
      }),
      { seed: 1208, numRuns: 200 },
    );
  });

  test('no plan warms a tooth to the marker', () => {
    fc.assert(
      fc.property(cases, (o) => {
        const { spec, protocol } = setting(o);
        const { heat } = makePlan({ spec, protocol, tables, risk: { samples: 2 } });
        expect(heat.length).toBe(o.teeth.length);
        for (const each of heat) expect(each.riseC.inVivo[1]).toBeLessThan(5.5);
      }),
      { seed: 1209, numRuns: 60 },
    );
  });
});
