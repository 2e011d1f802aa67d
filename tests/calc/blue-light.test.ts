import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  blueLightCalc,
  blueLightWeight,
  isSmallSource,
  radianceLimitSeconds,
  smallSourceLimitSeconds,
} from '../../src/calc/blue-light.ts';
import { blueLightDayCalc, dayLimitSeconds } from '../../src/calc/blue-light-day.ts';
import { computed, figure, refused, TABLES } from './calc-support.ts';

const rows = TABLES.blueLight;

interface Point {
  readonly nm: number;
  readonly wattPerM2SrNm: number;
}

/** A light-emitting diode as a bell curve whose unweighted radiance adds up to `total`, 5 nm steps. */
function diode(led: {
  readonly peak: number;
  readonly fwhm: number;
  readonly total: number;
}): Point[] {
  const sigma = led.fwhm / (2 * Math.sqrt(2 * Math.log(2)));
  const grid = Array.from({ length: 37 }, (_, at) => 380 + 5 * at);
  const shape = grid.map((nm) => Math.exp(-(((nm - led.peak) / sigma) ** 2) / 2));
  const sum = shape.reduce((all, each) => all + each, 0);
  return grid.map((nm, at) => ({ nm, wattPerM2SrNm: ((shape[at] ?? 0) * led.total) / (sum * 5) }));
}

describe('blue-light weighting', () => {
  test.each([
    // IEC 62471:2006, as tabulated in the open-source library luxpy.
    [380, 0.01],
    [400, 0.1],
    [425, 0.95],
    [435, 1],
    [440, 1],
    [460, 0.8],
    [500, 0.1],
    [700, 0.001],
    // 300 to 380 nm: 0.01, from memory.
    [300, 0.01],
    [299.9, 0],
    [700.1, 0],
  ])('B(%d nm) is %d', (nm, weight) => {
    expect(blueLightWeight(nm, rows)).toBe(weight);
  });

  test('B(385) is 0.013 as IEC prints it, 0.0125 in Directive 2006/25/EC: within 0.0005', () => {
    expect(blueLightWeight(385, rows)).toBe(0.013);
    expect(Math.abs(blueLightWeight(385, rows) - 0.0125)).toBeLessThanOrEqual(0.0005);
  });

  test('from 500 to 600 nm it follows 10^((450 - nm) / 50), between rows as well', () => {
    for (let nm = 500; nm <= 600; nm += 0.5) {
      const formula = 10 ** ((450 - nm) / 50);
      // A straight line over 5 nm lies at most 0.7 % above the curve.
      expect(Math.abs(blueLightWeight(nm, rows) / formula - 1)).toBeLessThan(0.008);
    }
  });

  // IEC 62471 and Directive 2006/25/EC sum the weighting from 300 to 700 nm and nowhere else.
  test('is 0 outside its band even where a table goes on', () => {
    const wide = [250, 300, 700, 750].map((wavelengthNm) => ({
      ...rows[0],
      wavelengthNm,
      weight: 1,
    }));
    const weights = [260, 299.9, 300, 700, 700.1, 740].map((nm) => blueLightWeight(nm, wide));
    expect(weights).toEqual([0, 0, 1, 1, 0, 0]);
  });

  test('between two rows it lies on the straight line', () => {
    expect(blueLightWeight(402.5, rows)).toBeCloseTo(0.15, 12);
  });
});

describe('radiance limit', () => {
  test.each([
    // IEC 62471: 10^6 J/m2/sr up to 10^4 s, 100 W/m2/sr beyond.
    [5e4, 20],
    [100, 1e4],
    // Just below 100 the dose formula would still give 10^4 s and more, but no limit holds then.
    [99.9, null],
    [50, null],
    [0, null],
  ])('%d W/m2/sr: %s s', (weighted, seconds) => {
    expect(radianceLimitSeconds(weighted)).toBe(seconds);
  });

  test.each([
    // Fraction of a bell-shaped diode's radiance that counts (sum on a 5 nm grid): 0.8472, 0.7883, 0.3091.
    [455, 25, 0.8472],
    [460, 20, 0.7883],
    [405, 20, 0.3091],
  ])('a diode at %d nm, %d nm wide, counts %d', (peak, fwhm, fraction) => {
    const spectrum = diode({ peak, fwhm, total: 1 });
    expect(figure(blueLightCalc, { spectrum }, 'weightedRadiance')).toBeCloseTo(fraction, 3);
  });

  test('a tip of 1000 mW/cm2 stared at: 2696.6 W/m2/sr, 370.8 s', () => {
    // Diffuse tip: L = M / pi = 10^4 / pi = 3183.1 W/m2/sr; weighted with 0.8472.
    const spectrum = diode({ peak: 455, fwhm: 25, total: 1e4 / Math.PI });
    const answer = computed(blueLightCalc, { spectrum });
    expect(answer['weightedRadiance']).toBeCloseTo(2696.6, 0);
    expect(answer['limitSeconds']).toBeCloseTo(370.8, 0);
    expect(answer['cautions']).toEqual([]);
  });

  test('a flat spectrum over the whole band is the area under B', () => {
    const spectrum = rows.map((row) => ({ nm: row.wavelengthNm, wattPerM2SrNm: 1 }));
    const area = rows
      .slice(1)
      .reduce((sum, row, at) => sum + 2.5 * (row.weight + (rows[at]?.weight ?? 0)), 0);
    expect(figure(blueLightCalc, { spectrum }, 'weightedRadiance')).toBeCloseTo(area, 9);
  });

  test('light outside 300 to 700 nm does not count, and a segment across the edge is cut there', () => {
    const outside = [
      { nm: 800, wattPerM2SrNm: 1e6 },
      { nm: 900, wattPerM2SrNm: 1e6 },
    ];
    expect(computed(blueLightCalc, { spectrum: outside })).toMatchObject({
      weightedRadiance: 0,
      limitSeconds: null,
    });
    const across = [
      { nm: 698, wattPerM2SrNm: 10 },
      { nm: 702, wattPerM2SrNm: 10 },
    ];
    // 2 nm * 10 * 0.001.
    expect(figure(blueLightCalc, { spectrum: across }, 'weightedRadiance')).toBeCloseTo(0.02, 12);
  });

  test('steps wider than 5 nm carry a caution', () => {
    const spectrum = [
      { nm: 440, wattPerM2SrNm: 1 },
      { nm: 460, wattPerM2SrNm: 1 },
    ];
    const answer = computed(blueLightCalc, { spectrum });
    // Trapezoid on the two points: (1.0 + 0.8) / 2 * 20.
    expect(answer['weightedRadiance']).toBeCloseTo(18, 12);
    expect(answer['cautions']).toEqual(['steps-wider-than-5-nm']);
  });

  test.each([
    [
      [{ nm: 450, wattPerM2SrNm: 1 }],
      'calc.blue-light.spectrum: expected a list of 2 to 10000 entries, got 1 entries',
    ],
    [
      [
        { nm: 450, wattPerM2SrNm: 1 },
        { nm: 450, wattPerM2SrNm: 1 },
      ],
      'calc.blue-light.spectrum[1].nm: expected a wavelength above the one before, got 450',
    ],
    [
      [
        { nm: 450, wattPerM2SrNm: 1 },
        { nm: 455, wattPerM2SrNm: -1 },
      ],
      'calc.blue-light.spectrum[1].wattPerM2SrNm: expected a number of 0 or more, got -1',
    ],
  ])('refuses %j', (spectrum, line) => {
    expect(refused(blueLightCalc, { spectrum })).toBe(line);
  });

  test('twice the light, half the time', () => {
    fc.assert(
      fc.property(fc.double({ min: 200, max: 1e6, noNaN: true }), (weighted) => {
        const once = radianceLimitSeconds(weighted) ?? Number.NaN;
        const twice = radianceLimitSeconds(2 * weighted) ?? Number.NaN;
        expect(once / twice).toBeCloseTo(2, 9);
        expect(once).toBeLessThanOrEqual(1e4);
      }),
    );
  });
});

describe('small sources', () => {
  test('an 8 mm tip is small only beyond 727 mm', () => {
    // 11 mrad (CIE e-ILV 17-26-056): 8 / 0.011 = 727 mm.
    expect(isSmallSource({ diameterMm: 8, distanceMm: 350 })).toBe(false);
    expect(isSmallSource({ diameterMm: 8, distanceMm: 727 })).toBe(false);
    expect(isSmallSource({ diameterMm: 8, distanceMm: 728 })).toBe(true);
    expect(isSmallSource({ diameterMm: 8, distanceMm: 1000 })).toBe(true);
  });

  test('the two published rules differ, and the stricter one is the default', () => {
    // IEC 62471 / ICNIRP 2013 against Directive 2006/25/EC / ICNIRP 1997, both from memory.
    expect(smallSourceLimitSeconds(2, 'iec')).toBe(50);
    expect(smallSourceLimitSeconds(2)).toBe(50);
    expect(smallSourceLimitSeconds(0.5, 'iec')).toBeNull();
    expect(smallSourceLimitSeconds(0.5)).toBe(200);
    expect(smallSourceLimitSeconds(0.01)).toBe(1e4);
    expect(smallSourceLimitSeconds(0.0099)).toBeNull();
  });
});

describe('seconds per person and day', () => {
  test('direct view follows the published times within 2 %', () => {
    // McCusker et al., Dent Mater 2013;29:e85: 2.5 min at 10 cm, 22.1 at 30 cm, 88.8 at 60 cm.
    for (const [distanceCm, minutes] of [
      [10, 2.5],
      [30, 22.1],
      [60, 88.8],
    ] as const) {
      const limit = dayLimitSeconds({ route: 'direct', distanceCm });
      expect(Math.abs(limit / (minutes * 60) - 1)).toBeLessThan(0.02);
    }
  });

  test('reflected from a tooth at 40 cm, 33 exposures of 20 s reach the published time', () => {
    // Price et al., J Occup Environ Hyg 2016;13:639: about 11 min per 8 h.
    const exposures = Array.from({ length: 33 }, () => ({
      person: 'assistant',
      route: 'reflected',
      distanceCm: 40,
      seconds: 20,
    }));
    const answer = computed(blueLightDayCalc, { exposures });
    expect(answer['people']).toEqual([{ person: 'assistant', usedFraction: expect.closeTo(1, 9) }]);
  });

  test('each person has an own sum, and a filter of 0.1 % leaves next to nothing', () => {
    // Eye protection that transmits at most 0.1 % from 390 to 525 nm (published test of 13 filters).
    const at = { route: 'reflected', distanceCm: 40, seconds: 660 };
    const exposures = [
      { person: 'dentist', ...at },
      { person: 'assistant', ...at, filterTransmittance: 0.001 },
      { person: 'dentist', ...at },
    ];
    expect(computed(blueLightDayCalc, { exposures })['people']).toEqual([
      { person: 'dentist', usedFraction: 2 },
      { person: 'assistant', usedFraction: 0.001 },
    ]);
  });
});
