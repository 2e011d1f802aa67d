/**
 * Seconds of light by class and thickness, each against the figure it follows from. Shares of light:
 * lithium disilicate 0.50 behind 0.5 mm (about half the irradiance, three lights over milled blocks)
 * and 280 of 1080 mW/cm2 behind 1.0 mm (Polymers 2022;14:3649); between and beyond them one
 * exponential, 0.964 at the surface and 1.314 per mm, derived. Composite block: 1971.88 mW/cm2 bare,
 * 1121.96, 660.36, 439.48, 298.70, 138.74 behind 0.5 to 3.0 mm (Sabrosa et al., IADR abstract 292).
 * Zirconia: the darkest of four materials behind 0.5 mm (J Prosthodont Res 2019;63:232), beyond it
 * derived, 2.06 per mm. The seconds are t = 8000 / (E * T), by hand.
 */
import { describe, expect, test } from 'vitest';
import { crownSize } from '../../src/calc/crown-size.ts';
import { unitShare } from '../../src/plan/light-share.ts';
import { makeExplainedPlan } from '../../src/plan/run-plan.ts';
import type { Unit } from '../../src/protocol/case-types.ts';
import { caseOf, expose, protocolOf, step } from '../engine/fixture.ts';
import { shippedTables } from './shipped.ts';

const tables = shippedTables();

const unitOf = (material: string, thicknessMm: number, more: Partial<Unit> = {}): Unit => ({
  id: '11',
  teeth: ['11'],
  restoration: 'veneer',
  material,
  thicknessMm,
  ...more,
});

const shareOf = (unit: Unit): number =>
  unitShare({ unit, thicknessMm: unit.thicknessMm ?? 0, tables })?.value ?? Number.NaN;

const dosed = protocolOf([
  step(
    'light',
    'unit',
    {
      ...expose({ surfaces: ['facial'], seconds: 1 }),
      doseJPerCm2: { value: 8, basis: { kind: 'practice' } },
    } as never,
    {},
  ),
]);

function planned(unit: Unit, irradianceMwPerCm2: number) {
  const spec = caseOf(['11']);
  const light = {
    ...spec.light,
    irradianceMwPerCm2,
    tipDiameterMm: 11,
    programmesS: [3, 5, 10, 15, 20, 30, 40],
  };
  const { value, why } = makeExplainedPlan({
    spec: { ...spec, light, units: [unit] },
    protocol: dosed,
    tables,
  });
  return {
    seconds: why.find((e) => e.id === 'exposure/light/11/facial/dose')?.value,
    plan: value.exposures['light']?.['11']?.[0],
    limit: why.find((e) => e.id === 'exposure/light/11/facial')?.limit,
  };
}

/** Within the two or three digits that the shares are printed with. */
const near = (value: unknown, wanted: number): void => {
  expect(Number(value)).toBeGreaterThan(wanted * 0.985);
  expect(Number(value)).toBeLessThan(wanted * 1.015);
};

describe('seconds for 8 J/cm2 behind a unit', () => {
  test.each([
    [0.3, 0.65, [12.3, 10.3, 8.2]],
    [0.5, 0.5, [16, 13.3, 10.7]],
    [0.8, 0.34, [23.5, 19.6, 15.7]],
    [1, 0.26, [30.8, 25.6, 20.5]],
    [1.5, 0.134, [59.7, 49.8, 39.8]],
    [2, 0.07, [114, 95, 76]],
  ])('lithium disilicate, light and translucent, %f mm', (mm, share, seconds) => {
    const unit = unitOf('lithium-disilicate', mm);
    near(shareOf(unit), share);
    [1000, 1200, 1500].forEach((e, i) => near(planned(unit, e).seconds, seconds[i] ?? 0));
  });

  test.each([
    ['resin-composite', 0.5, 0.569, 11.7],
    ['resin-composite', 1, 0.335, 19.9],
    ['resin-composite', 1.5, 0.223, 29.9],
    ['resin-composite', 2, 0.152, 43.9],
    ['resin-composite', 3, 0.07, 95],
    ['zirconia', 0.5, 0.33, 20.2],
    ['zirconia', 1, 0.12, 55.6],
    ['zirconia', 1.5, 0.04, 167],
    ['zirconia', 2, 0.015, 444],
  ])('%s, %f mm, at 1200 mW/cm2', (material, mm, share, seconds) => {
    near(shareOf(unitOf(material, mm)), share);
    near(planned(unitOf(material, mm), 1200).seconds, seconds);
  });

  // Feldspathic and leucite ceramic pass more than lithium disilicate, polymer-infiltrated ceramic and
  // reinforced silicate about as much (ranking of Oper Dent 2016;41:531): its row, not the composite's.
  test.each(['feldspathic', 'leucite', 'polymer-infiltrated', 'zirconia-reinforced-silicate'])(
    '%s is planned by the row of lithium disilicate',
    (material) => {
      for (const mm of [0.4, 0.5, 0.75, 1, 1.3])
        expect(shareOf(unitOf(material, mm))).toBe(shareOf(unitOf('lithium-disilicate', mm)));
    },
  );

  test('of an unknown class the darkest row of any material is planned with', () => {
    // 67.2 % lost behind 0.5 mm: J Prosthodont Res 2019;63:232-238 (abstract).
    expect(shareOf(unitOf('unknown', 0.5))).toBeCloseTo(0.328, 6);
    expect(shareOf(unitOf('unknown', 1))).toBeCloseTo(0.328 ** 2, 6);
  });

  // Regression in Braz Dent J: LT 2.66, shade A3.5 2.18 points of share below; MO extended from it.
  test.each([
    [{ opacity: 'low-translucency' }, 0.027],
    [{ shade: 'dark 1' }, 0.022],
    [{ shade: 'A3.5' }, 0.022],
    [{ opacity: 'low-translucency', shade: 'dark 2' }, 0.05],
    [{ opacity: 'medium-opacity' }, 0.05],
    [{ opacity: 'high-translucency', shade: 'light 1' }, 0],
  ] as const)('%o passes less from 1.0 to 1.5 mm', (more, less) => {
    for (const mm of [1, 1.25, 1.5]) {
      const row = shareOf(unitOf('lithium-disilicate', mm));
      expect(shareOf(unitOf('lithium-disilicate', mm, more))).toBeCloseTo(row - less, 9);
    }
    const thin = shareOf(unitOf('lithium-disilicate', 0.8));
    expect(shareOf(unitOf('lithium-disilicate', 0.8, more))).toBe(thin);
  });

  test('a thicker unit never passes more', () => {
    for (const material of ['lithium-disilicate', 'resin-composite', 'zirconia', 'unknown']) {
      for (const opacity of ['high-translucency', 'low-translucency', 'opaque'] as const) {
        let before = 1;
        for (let mm = 0.1; mm < 6; mm += 0.05) {
          const share = shareOf(unitOf(material, mm, { opacity }));
          expect(share).toBeLessThanOrEqual(before);
          expect(share).toBeGreaterThan(0);
          before = share;
        }
      }
    }
  });
});

describe('what the lamp is set to', () => {
  // Lamps run fixed programmes (rule of the trade, no source); the sums are worked by hand.
  test.each([
    [0.5, 1200, [15]],
    [0.8, 1200, [20]],
    [1, 1500, [15, 10]],
    [1, 1200, [30]],
    [1, 1000, [20, 15]],
  ])('behind %f mm of lithium disilicate at %d mW/cm2', (mm, irradiance, presses) => {
    const { plan, limit } = planned(unitOf('lithium-disilicate', mm), irradiance);
    expect((plan?.presses ?? [plan?.setMs ?? 0]).map((ms) => ms / 1000)).toEqual(presses);
    expect(limit).toBeUndefined();
  });

  test('1.5 mm at 1200 mW/cm2 would take 49.8 s: the place is held at 40 s, and the target is missed', () => {
    const { plan, limit } = planned(unitOf('lithium-disilicate', 1.5), 1200);
    expect(plan).toMatchObject({
      setMs: 40_000,
      presses: [20_000, 20_000],
      reason: { isHeld: true },
    });
    // 1200 mW/cm2 * 40 s * 0.134 = 6.4 J/cm2: over the least of 6.
    expect(limit).toMatchObject({
      code: 'target-not-reached',
      cause: 'ceramic',
      wayOut: 'dual-cured-cement',
    });
    expect(limit?.reachedJPerCm2).toBeCloseTo(6.43, 1);
  });
});

test('the crowns are those of the table that the counts were worked out with', () => {
  // Ash & Nelson, Wheeler's, Table 1-1.
  const row = crownSize(11, tables.crowns);
  expect(row.ok && row.value).toMatchObject({ mesiodistalMm: 8.5, crownLengthMm: 10.5 });
});
