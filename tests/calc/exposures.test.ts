import { describe, expect, test } from 'vitest';
import { surfaceExposures } from '../../src/calc/exposures.ts';

describe('exposures of one surface', () => {
  // Mean upper central, 8.5 x 10.5 mm (Ash & Nelson), 8 mm tip; 16 J/cm2 (Braz Oral Res 2015;29) at
  // 1200 mW/cm2 through T = 0.495 (Pacheco et al. 2019) take 26.9 s.
  const need = {
    widthMm: 8.5,
    heightMm: 10.5,
    tipDiameterMm: 8,
    irradianceMwPerCm2: 1200,
    doseJPerCm2: 16,
    transmittance: 0.495,
    productSeconds: 20,
  };

  const exposures = (change: Partial<typeof need>) => {
    const found = surfaceExposures({ ...need, ...change });
    if (!found.ok) throw new Error(found.error.expected);
    return found.value;
  };

  test('the dose governs when the product states a shorter time', () => {
    const { spots, secondsEach, governedBy } = exposures({});
    expect(spots).toHaveLength(4);
    expect(secondsEach).toBeCloseTo(26.94, 2);
    expect(governedBy).toBe('dose');
  });

  test('the product governs when its time is longer, and the computed one stays visible', () => {
    const { secondsEach, governedBy, doseSeconds } = exposures({ productSeconds: 40 });
    expect(secondsEach).toBe(40);
    expect(governedBy).toBe('product');
    expect(doseSeconds).toBeCloseTo(26.94, 2);
  });

  test('a tip too small for the surface is a problem, not an endless list', () => {
    expect(surfaceExposures({ ...need, tipDiameterMm: 0.01 }).ok).toBe(false);
  });
});
