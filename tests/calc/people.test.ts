import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { crownCalc, crownSize, surfaceRectangle } from '../../src/calc/crown-size.ts';
import { heatCalc } from '../../src/calc/heat.ts';
import { contrastCalc, legibilityCalc, targetSizeCalc } from '../../src/calc/legibility.ts';
import {
  ALARM_PARTIALS,
  ALARM_RISE_SHARE,
  type AlarmPriority,
  alarmPattern,
  soundCalc,
} from '../../src/calc/sound.ts';
import { TEETH } from '../../src/calc/tooth.ts';
import { computed, figure, refused, TABLES } from './calc-support.ts';

describe('crown dimensions', () => {
  test.each([
    // Ash & Nelson, Wheeler's Dental Anatomy, Table 1-1 (second-hand): length, mesiodistal, buccolingual.
    [11, 10.5, 8.5, 7],
    [22, 9, 6.5, 6],
    [13, 10, 7.5, 8],
    [36, 7.5, 11, 10.5],
    [47, 7, 10.5, 10],
  ])('tooth %i is %d x %d x %d mm', (fdi, crownLengthMm, mesiodistalMm, buccolingualMm) => {
    const expected = { crownLengthMm, mesiodistalMm, buccolingualMm };
    expect(computed(crownCalc, { fdi })).toMatchObject(expected);
  });

  test('where copies of the table disagree, the value lies in their range and says so', () => {
    // Upper second premolar 6.5 or 7.0 wide; lower third molar 6.5 or 7.0, lower central 9.0 or 9.5 long.
    for (const [fdi, key, low, high] of [
      [15, 'mesiodistalMm', 6.5, 7],
      [38, 'crownLengthMm', 6.5, 7],
      [41, 'crownLengthMm', 9, 9.5],
    ] as const) {
      const answer = computed(crownCalc, { fdi });
      expect(answer[key]).toBeGreaterThanOrEqual(low);
      expect(answer[key]).toBeLessThanOrEqual(high);
      expect(answer['note']).not.toBe('');
    }
  });

  test('upper front teeth agree with an independent series within a tenth', () => {
    // J Prosthet Dent 2015;113:565: clinical crowns of 412 adults, width and length.
    for (const [fdi, width, length] of [
      [11, 8.71, 10.23],
      [12, 6.75, 8.59],
      [13, 7.81, 9.93],
    ] as const) {
      expect(Math.abs(figure(crownCalc, { fdi }, 'mesiodistalMm') / width - 1)).toBeLessThan(0.1);
      expect(Math.abs(figure(crownCalc, { fdi }, 'crownLengthMm') / length - 1)).toBeLessThan(0.1);
    }
  });

  test('every permanent tooth has a row, and its surfaces use the right sides', () => {
    for (const tooth of TEETH) {
      const row = crownSize(tooth.fdi, TABLES.crowns);
      if (!row.ok) throw new Error(`no row for ${tooth.fdi}`);
      const { crownLengthMm, mesiodistalMm, buccolingualMm } = row.value;
      const facial = { widthMm: mesiodistalMm, heightMm: crownLengthMm };
      expect(surfaceRectangle(row.value, 'facial')).toEqual(facial);
      const mesial = { widthMm: buccolingualMm, heightMm: crownLengthMm };
      expect(surfaceRectangle(row.value, 'mesial')).toEqual(mesial);
    }
  });

  test('gives no row for a code that names no tooth, nor from a table that lacks it', () => {
    expect(crownSize(19, TABLES.crowns)).toMatchObject({
      ok: false,
      error: { place: 'crown.fdi' },
    });
    expect(crownSize(11, [])).toMatchObject({ ok: false, error: { place: 'tables.crowns' } });
  });

  test('refuses a code that names no tooth', () => {
    expect(refused(crownCalc, { fdi: 19 })).toBe(
      'calc.crown.fdi: expected a permanent tooth 11-18, 21-28, 31-38 or 41-48, got 19',
    );
  });
});

describe('heat near the pulp', () => {
  const exposure = (startSeconds: number, seconds: number, irradianceMwPerCm2 = 1200) => ({
    startSeconds,
    seconds,
    irradianceMwPerCm2,
  });

  test('24 J/cm2 mean 2.2 to 3.0 C in vitro and less in vivo', () => {
    // Slopes from Oper Dent 2010;35:220 (5.98 C at 64, 3.98 C at 32 J/cm2) and 3.4 C at 48 J/cm2 in vivo.
    const answer = computed(heatCalc, { exposures: [exposure(0, 20)] });
    expect(answer['radiantExposureJPerCm2']).toBe(24);
    expect(answer['riseC']).toEqual({
      inVivo: [expect.closeTo(1.7, 1), expect.closeTo(1.7, 1)],
      inVitro: [expect.closeTo(2.24, 1), expect.closeTo(2.99, 1)],
    });
    expect(answer['level']).toBe('below-marker');
  });

  test.each([
    // In vitro 5.5 C is reached between 44 and 59 J/cm2, in vivo at about 78 J/cm2.
    [43, 'below-marker'],
    [46, 'within-uncertainty'],
    [77, 'within-uncertainty'],
    [78, 'above-marker'],
  ])('%d J/cm2 is %s', (dose, level) => {
    expect(computed(heatCalc, { exposures: [exposure(0, dose, 1000)] })['level']).toBe(level);
  });

  test('the marker is disputed, so the answer never claims harm or its absence', () => {
    // Zach & Cohen 1965 (5.5 C, from memory) against Baldissara et al. 1997 (8.9 to 14.7 C tolerated).
    const answer = computed(heatCalc, { exposures: [exposure(0, 60)] });
    expect(String(answer['source'])).toMatch(/disputed by Baldissara/);
    expect(JSON.stringify(answer)).not.toMatch(/\b(safe|adequate|harmless|cured)\b/i);
  });

  test('seven minutes of rest, as in the clinical study, start the sum again', () => {
    // Runnacles et al., Dent Mater 2015;31:505: 7 min between exposures.
    const near = { exposures: [exposure(0, 20), exposure(439, 20)] };
    expect(figure(heatCalc, near, 'radiantExposureJPerCm2')).toBe(48);
    const apart = { exposures: [exposure(0, 20), exposure(440, 20)] };
    expect(figure(heatCalc, apart, 'radiantExposureJPerCm2')).toBe(24);
  });

  test('two exposures of 20 s without a rest are the 40 s of the same light', () => {
    // Oper Dent 2010;35:220: 3.98 C after 20 s and 5.98 C after 40 s, one light, one tooth.
    const rise = (list: readonly ReturnType<typeof exposure>[]): number => {
      const { riseC } = computed(heatCalc, { exposures: list, restSeconds: 0 });
      return Number(Object(riseC).inVitro[0]);
    };
    const once = rise([exposure(0, 20, 1600)]);
    const twice = rise([exposure(0, 20, 1600), exposure(20, 20, 1600)]);
    expect(twice / once).toBeCloseTo(5.98 / 3.98, 6);
  });

  // Five surfaces of 20 s at 1200 mW/cm2 are 120 J/cm2: as one exposure 8.5 C in vivo and above any
  // marker; unit after unit in turn, they have cooled in between (first-order cooling as above).
  test.each([
    [8, 'below-marker'],
    [2, 'within-uncertainty'],
  ])('five surfaces of 20 s on each of %d units in turn: %s', (units, level) => {
    const exposures = [0, 1, 2, 3, 4].map((k) => exposure(k * units * 25, 20));
    const answer = computed(heatCalc, { exposures });
    expect(answer['radiantExposureJPerCm2']).toBe(120);
    expect(answer['level']).toBe(level);
  });

  test('one tooth lit surface after surface for long, without a rest, is above the marker', () => {
    const exposures = [0, 1, 2, 3, 4].map((k) => exposure(k * 40, 40));
    expect(computed(heatCalc, { exposures, restSeconds: 0 })['level']).toBe('above-marker');
  });

  test('exposures that follow too closely are named', () => {
    // Rest of 10 to 20 s: common practice, no source.
    const exposures = [exposure(0, 20), exposure(25, 20), exposure(60, 20)];
    expect(computed(heatCalc, { exposures })['restTooShort']).toEqual([1]);
    expect(computed(heatCalc, { exposures, restSeconds: 20 })['restTooShort']).toEqual([1, 2]);
    expect(computed(heatCalc, { exposures, restSeconds: 0 })['restTooShort']).toEqual([]);
  });

  test.each([
    [-1, 'a number of 0 or more'],
    [3601, 'a number of at most 3600'],
  ])('a rest of %d s is refused', (restSeconds, expected) => {
    expect(refused(heatCalc, { exposures: [exposure(0, 20)], restSeconds })).toBe(
      `calc.heat.restSeconds: expected ${expected}, got ${restSeconds}`,
    );
  });

  test('overlapping exposures of one tooth are refused', () => {
    const exposures = [exposure(0, 20), exposure(10, 20)];
    expect(refused(heatCalc, { exposures })).toBe(
      'calc.heat.exposures[1].startSeconds: expected a start after the end before it, got 10',
    );
  });
});

describe('legibility', () => {
  test.each([
    // NUREG-0700 rev. 2 and ISO 9241-3/-303: h = 2 D tan(theta / 2).
    [16, 0.5, 2.327],
    [16, 1, 4.654],
    [16, 2, 9.308],
    [16, 3, 13.963],
    [20, 0.5, 2.909],
    [20, 2, 11.636],
    [20, 3, 17.453],
    [22, 1, 6.4],
    [22, 3, 19.199],
  ])("%d' at %d m is %d mm", (arcMinutes, distanceM, heightMm) => {
    const height = figure(legibilityCalc, { distanceM, arcMinutes }, 'heightMm');
    expect(height).toBeCloseTo(heightMm, 3);
    // NUREG-0700 gives the small-angle form 6.283 D theta / 21600.
    expect(height / ((6.283 * distanceM * 1000 * arcMinutes) / 21_600)).toBeCloseTo(1, 4);
  });

  test.each([
    // WCAG 2.2 definition of contrast ratio; values as commonly printed.
    ['#000', '#fff', 21],
    ['#767676', '#ffffff', 4.542],
    ['#777', '#fff', 4.478],
    ['#f00', '#fff', 3.998],
    ['#123456', '#123456', 1],
  ])('%s on %s has a contrast of %d', (foreground, background, ratio) => {
    const answer = computed(contrastCalc, { foreground, background });
    expect(answer['ratio']).toBeCloseTo(ratio, 3);
    expect(answer).toMatchObject({ text: ratio >= 4.5, large: ratio >= 3, enhanced: ratio >= 7 });
    const swapped = computed(contrastCalc, { foreground: background, background: foreground });
    expect(swapped['ratio']).toBe(answer['ratio']);
  });

  test('refuses a colour by name', () => {
    expect(refused(contrastCalc, { foreground: 'red', background: '#fff' })).toBe(
      'calc.contrast.foreground: expected a colour such as "#0a4" or "#00aa44", got "red"',
    );
  });

  test.each([
    // WCAG 2.2, 2.5.8 and 2.5.5.
    [23, false, false],
    [24, true, false],
    [43, true, false],
    [44, true, true],
  ])('a target of %d px', (side, minimum, enhanced) => {
    const input = { widthPx: 100, heightPx: side, pxPerInch: 132 };
    expect(computed(targetSizeCalc, input)).toMatchObject({ minimum, enhanced });
  });

  test('20 mm, where touch performance levels off, are 103.9 px at 132 px per inch', () => {
    // Chen et al., Appl Ergon 2013;44:297.
    const input = { widthPx: 103.937, heightPx: 200, pxPerInch: 132 };
    expect(figure(targetSizeCalc, input, 'sideMm')).toBeCloseTo(20, 3);
  });
});

describe('alarm pulses', () => {
  // IEC 60601-1-8, tables 3 and 4, as quoted in public sources.
  const gaps = (priority: AlarmPriority): number[] => {
    const { pulses } = alarmPattern(priority);
    return pulses.slice(1).map((pulse, at) => {
      const before = pulses[at];
      return pulse.startMs - (before?.startMs ?? 0) - (before?.durationMs ?? 0);
    });
  };
  const endMs = (priority: AlarmPriority): number => {
    const last = alarmPattern(priority).pulses.at(-1);
    return (last?.startMs ?? 0) + (last?.durationMs ?? 0);
  };

  test('high: ten pulses in two fives with the rhythm x, x, 2x + td, x', () => {
    const { pulses } = alarmPattern('high');
    expect(pulses).toHaveLength(10);
    const td = pulses[0]?.durationMs ?? 0;
    const [x = 0, second, third, fourth, between = 0, ...rest] = gaps('high');
    expect([second, third, fourth]).toEqual([x, 2 * x + td, x]);
    expect(rest).toEqual([x, x, 2 * x + td, x]);
    expect(x).toBeGreaterThanOrEqual(50);
    expect(x).toBeLessThanOrEqual(125);
    expect(td).toBeGreaterThanOrEqual(75);
    expect(td).toBeLessThanOrEqual(200);
    expect(between).toBeGreaterThanOrEqual(350);
    expect(between).toBeLessThanOrEqual(1300);
    // td 150, x 100, gap 600 give 3400 ms; the standard allows 1750 to 4950 ms.
    expect(endMs('high')).toBe(3400);
  });

  test('medium: three pulses evenly spaced; low: two', () => {
    expect(alarmPattern('medium').pulses).toHaveLength(3);
    expect(endMs('medium')).toBe(1000);
    expect([1, 2]).toContain(alarmPattern('low').pulses.length);
    for (const priority of ['medium', 'low'] as const) {
      for (const gap of gaps(priority)) {
        expect(gap).toBeGreaterThanOrEqual(125);
        expect(gap).toBeLessThanOrEqual(250);
      }
      for (const { durationMs } of alarmPattern(priority).pulses) {
        expect(durationMs).toBeGreaterThanOrEqual(125);
        expect(durationMs).toBeLessThanOrEqual(250);
      }
    }
  });

  test.each([
    ['high', 2500, 15_000],
    ['medium', 2500, 30_000],
    ['low', 15_001, Number.POSITIVE_INFINITY],
  ] as const)('%s repeats %d to %d ms after its end', (priority, least, most) => {
    const silence = alarmPattern(priority).repeatAfterMs - endMs(priority);
    expect(silence).toBeGreaterThanOrEqual(least);
    expect(silence).toBeLessThanOrEqual(most);
  });

  test('each tone has four partials between 300 and 4000 Hz over a fundamental of 150 to 1000 Hz', () => {
    for (const priority of ['high', 'medium', 'low'] as const) {
      for (const { hz } of alarmPattern(priority).pulses) {
        expect(hz).toBeGreaterThanOrEqual(150);
        expect(hz).toBeLessThanOrEqual(1000);
        const heard = ALARM_PARTIALS.map((n) => n * hz).filter((f) => f >= 300 && f <= 4000);
        expect(heard.length).toBeGreaterThanOrEqual(4);
      }
    }
    expect(ALARM_RISE_SHARE).toBeGreaterThanOrEqual(0.1);
    expect(ALARM_RISE_SHARE).toBeLessThanOrEqual(0.2);
  });

  test('refuses a priority that does not exist', () => {
    expect(refused(soundCalc, { priority: 'urgent' })).toBe(
      'calc.sound.priority: expected one of "high", "medium", "low", got "urgent"',
    );
  });
});

describe('every figure', () => {
  test('refuses any JSON value in one line that starts with its own name', () => {
    const calcs = [crownCalc, heatCalc, legibilityCalc, contrastCalc, targetSizeCalc, soundCalc];
    fc.assert(
      fc.property(fc.constantFrom(...calcs), fc.jsonValue(), (calc, input) => {
        const answer = calc.compute(input, TABLES);
        if (answer.ok) return;
        expect(answer.error.place.startsWith(`calc.${calc.name}`)).toBe(true);
        expect(refused(calc, input)).not.toContain('\n');
      }),
    );
  });
});
