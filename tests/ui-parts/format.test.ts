// Checks against: the SI Brochure, 9th edition (2019), sections 5.4.3 and 5.4.7 (space before unit
// and percent sign) and table 8 (symbols h, min, s); date-fns `intervalToDuration` as an independent
// split of a duration into hours, minutes and seconds.
import { intervalToDuration } from 'date-fns';
import fc from 'fast-check';
import { describe, expect, it, onTestFinished } from 'vitest';
import {
  formatClock,
  formatClockInterval,
  formatOver,
  formatSeconds,
  formatSignedSeconds,
  formatWords,
  formatWordsInterval,
} from '../../src/words/duration.ts';
import { speak } from '../../src/words/language.ts';
import { formatDecimal, formatPercent, formatQuantity } from '../../src/words/number.ts';

const SEED = 20260917;
const plain = (text: string): string => text.replaceAll('\u00a0', ' ');
const DAY_MS = 86_400_000;

describe('colon form', () => {
  it.each([
    [0, '0:00'],
    [7_000, '0:07'],
    [59_999, '0:59'],
    [60_000, '1:00'],
    [125_000, '2:05'],
    [3_600_000, '1:00:00'],
    [86_352_000, '23:59:12'],
    [-3_000, '\u22120:03'],
  ])('writes %d ms as %s', (ms, text) => {
    expect(formatClock(ms)).toBe(text);
  });

  it('rounds what is left up, so that 0:00 appears exactly at the moment', () => {
    expect(formatClock(1, 'up')).toBe('0:01');
    expect(formatClock(0, 'up')).toBe('0:00');
    expect(formatClock(-1, 'up')).toBe('0:00');
  });

  it(`splits every duration as an independent library does (seed ${SEED})`, () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: DAY_MS - 1 }), (ms) => {
        const parts = intervalToDuration({ start: 0, end: ms });
        const [seconds = 0, minutes = 0, hours = 0] = formatClock(ms)
          .split(':')
          .map(Number)
          .toReversed();
        expect({ hours, minutes, seconds }).toEqual({
          hours: parts.hours ?? 0,
          minutes: parts.minutes ?? 0,
          seconds: parts.seconds ?? 0,
        });
      }),
      { seed: SEED, numRuns: 500 },
    );
  });

  it(`changes at most once within any second (seed ${SEED})`, () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 90_000 }),
        fc.integer({ min: 0, max: 999 }),
        (start, within) => {
          const shown = new Set(
            Array.from({ length: 21 }, (_, i) =>
              formatClock(30_000 - (start + (within * i) / 20), 'up'),
            ),
          );
          expect(shown.size).toBeLessThanOrEqual(2);
        },
      ),
      { seed: SEED, numRuns: 200 },
    );
  });

  it('refuses what is no number', () => {
    expect(() => formatClock(Number.NaN)).toThrow(/finite/);
  });
});

describe('time past a bound', () => {
  it('has a plus sign from the first moment on, and counts started seconds', () => {
    expect(formatOver(12_400)).toBe('+0:13');
    expect(formatOver(1)).toBe('+0:01');
    expect(formatOver(0)).toBe('0:00');
    expect(formatOver(75_000)).toBe('+1:15');
  });
});

describe('intervals', () => {
  it('writes both ends, or one figure when they read the same', () => {
    expect(formatClockInterval({ loMs: 42_000, hiMs: 70_000 })).toBe('0:42\u20131:10');
    expect(formatClockInterval({ loMs: 42_000, hiMs: 42_900 })).toBe('0:42');
    expect(plain(formatWordsInterval({ loMs: 42_000, hiMs: 70_000 }))).toBe('42 s to 1 min 10 s');
    for (const hiMs of [null, Number.POSITIVE_INFINITY]) {
      expect(formatClockInterval({ loMs: 42_000, hiMs })).toBe('0:42\u2013?');
      expect(plain(formatWordsInterval({ loMs: 42_000, hiMs }))).toBe('at least 42 s');
    }
  });
});

describe('words', () => {
  it.each([
    [0, '0 s'],
    [5_000, '5 s'],
    [125_000, '2 min 5 s'],
    [120_000, '2 min'],
    [DAY_MS, '24 h'],
    [3_660_000, '1 h 1 min'],
    [76 * 3_600_000, '3 d 4 h'],
    [-5_000, '\u22125 s'],
  ])('writes %d ms as %s', (ms, text) => {
    expect(plain(formatWords(ms))).toBe(text);
  });

  it('keeps number and unit on one line (SI Brochure 5.4.3)', () => {
    expect(formatWords(5_000)).toBe('5\u00a0s');
    expect(formatSeconds(8_000)).toBe('8\u00a0s');
  });

  it('signs differences with plus and the true minus sign', () => {
    expect(plain(formatSignedSeconds(6_900))).toBe('+6 s');
    expect(plain(formatSignedSeconds(-3_000))).toBe('\u22123 s');
    expect(plain(formatSignedSeconds(-400))).toBe('0 s');
  });
});

describe('numbers', () => {
  it('puts a space before the percent sign (SI Brochure 5.4.7)', () => {
    expect(formatPercent(0.58)).toBe('58\u00a0%');
  });

  it('never calls a small risk none or a large one certain', () => {
    expect(plain(formatPercent(0.001))).toBe('<1 %');
    expect(plain(formatPercent(0.9999))).toBe('>99 %');
    expect(plain(formatPercent(0))).toBe('0 %');
    expect(plain(formatPercent(1))).toBe('100 %');
  });

  it('keeps the decimals that were asked for', () => {
    expect(plain(formatQuantity({ value: 0.5, unit: 'mm', digits: 1 }))).toBe('0.5 mm');
    expect(plain(formatQuantity({ value: -0.04, unit: 'mm', digits: 1 }))).toBe('0.0 mm');
  });

  // Unicode CLDR: German, Portuguese and Czech write a comma, Arabic is told in these digits too.
  it('has the decimal sign of the language, and never parts thousands', () => {
    onTestFinished(() => speak('en', null));
    for (const language of ['de', 'pt', 'cs']) {
      speak(language, null);
      expect(plain(formatQuantity({ value: -0.55, unit: 'mm', digits: 2 }))).toBe('\u22120,55 mm');
      expect(plain(formatQuantity({ value: 1200, unit: 'mW/cm²', digits: 0 }))).toBe('1200 mW/cm²');
    }
    speak('ar-EG', null);
    expect(formatDecimal({ value: 12.5, digits: 1 })).toMatch(/^12[.,\u066b]5$/);
  });

  it('rounds as it did before it knew languages', () => {
    const values = fc.double({ min: -20_000, max: 20_000, noNaN: true });
    fc.assert(
      fc.property(values, fc.integer({ min: 0, max: 3 }), (value, digits) => {
        const text = Math.abs(value).toFixed(digits);
        const sign = value < 0 && Number(text) !== 0 ? '\u2212' : '';
        expect(formatDecimal({ value, digits })).toBe(`${sign}${text}`);
      }),
    );
  });
});
