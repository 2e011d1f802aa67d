// What the chair clock says at chosen instants. The rule that a minimum is judged by the low end of
// an uncertain time and a maximum by the high end is this app's own.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { figureWidthEm, readClock, readRemaining } from '../../src/ui/parts/clock-reading.ts';
import { gaugeName } from '../../src/ui/parts/Gauge.tsx';
import { type GaugeTimes, gaugeGeometry, gaugePhase } from '../../src/ui/parts/gauge-geometry.ts';

const SEED = 411;
const dwell = (lo: number, hi = lo): GaugeTimes => ({
  kind: 'dwell',
  elapsedLoMs: lo,
  elapsedHiMs: hi,
  floorMs: 15_000,
  targetMs: 20_000,
  rimMs: 30_000,
});

describe('reading a dwell', () => {
  it.each([
    ['at the start', dwell(0), '0:20', 'to-target'],
    ['a moment later', dwell(1), '0:20', 'to-target'],
    ['after a second', dwell(1_000), '0:19', 'to-target'],
    ['at the target', dwell(20_000), '0:00', 'past-target'],
    ['past the target', dwell(25_400), '+0:06', 'past-target'],
    ['at the limit', dwell(30_000), '+0:10', 'past-target'],
    ['over the limit', dwell(42_000), '+0:12', 'over-by'],
    ['uncertain', dwell(11_000, 16_000), '0:04\u20130:09', 'to-target'],
    ['uncertain across the target', dwell(11_000, 21_000), '0:00\u20130:09', 'to-target'],
    ['perhaps over', dwell(25_000, 34_000), '+0:04', 'over-by-up-to'],
    ['over by an uncertain time', dwell(32_000, 40_000), '+0:02\u20130:10', 'over-by'],
  ] as const)('%s', (_, times, figure, words) => {
    const reading = readClock(times);
    expect([reading.figure, reading.words]).toEqual([figure, words]);
  });

  it('tells the minimum while it is not met, then the limit', () => {
    expect(readClock(dwell(9_000)).furtherLine).toBe('0:06 to the minimum');
    expect(readClock(dwell(17_000)).furtherLine).toBe('0:13 to the limit');
  });

  it('does not call a minimum met that may not be', () => {
    expect(gaugePhase(dwell(14_000, 19_000))).toBe('short');
    expect(gaugePhase(dwell(29_000, 30_001))).toBe('over');
  });
});

describe('reading other clocks', () => {
  it('a window counts down to its limit', () => {
    const times = { kind: 'window', elapsedLoMs: 142_000, elapsedHiMs: 142_000, rimMs: 180_000 };
    expect(readClock({ ...times, kind: 'window' })).toMatchObject({
      figure: '0:38',
      words: 'left-in-window',
    });
  });

  it('a hold counts to its floor and then tells how long it was held', () => {
    const hold = (ms: number): GaugeTimes => ({
      kind: 'hold',
      elapsedLoMs: ms,
      elapsedHiMs: ms,
      floorMs: 86_400_000,
    });
    expect(readClock(hold(86_399_000))).toMatchObject({ figure: '0:01', words: 'to-hold' });
    expect(readClock(hold(86_400_000))).toMatchObject({ figure: '24:00:00', words: 'held-for' });
  });

  it('an exposure that was given says so and claims nothing more', () => {
    const given = { kind: 'exposure' as const, targetMs: 10_000 };
    expect(readClock({ ...given, elapsedLoMs: 4_000, elapsedHiMs: 4_000 })).toMatchObject({
      figure: '0:06',
      words: 'to-give',
    });
    expect(readClock({ ...given, elapsedLoMs: 10_000, elapsedHiMs: 10_000 }).words).toBe('given');
  });

  it('an age counts up on the big clock and down in the list', () => {
    const age: GaugeTimes = {
      kind: 'age',
      elapsedLoMs: 62_000,
      elapsedHiMs: 62_000,
      rimMs: 180_000,
    };
    expect(readClock(age).figure).toBe('1:02');
    expect(readRemaining(age).figure).toBe('1:58');
  });
});

describe('the drawing', () => {
  it(`never rises when less time has passed and never leaves the vessel (seed ${SEED})`, () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 90_000 }),
        fc.integer({ min: 0, max: 90_000 }),
        (a, b) => {
          const [less, more] = [Math.min(a, b), Math.max(a, b)];
          const size = { length: 300, breadth: 124, marks: true };
          const low = gaugeGeometry(dwell(less), size);
          const high = gaugeGeometry(dwell(more), size);
          expect(high.surfaceY).toBeLessThanOrEqual(low.surfaceY);
          expect(high.surfaceY).toBeGreaterThanOrEqual(high.top - 1e-9);
          expect(high.spill > 0).toBe(more > 30_000);
          expect(high.spill).toBeLessThanOrEqual(1);
        },
      ),
      { seed: SEED },
    );
  });

  it('stands floor under target under rim', () => {
    const g = gaugeGeometry(dwell(0), { length: 300, breadth: 124, marks: true });
    expect(g.floorY).toBeGreaterThan(g.targetY ?? Number.NaN);
    expect(g.targetY).toBeGreaterThan(g.top);
  });

  it('refuses an interval that is turned round', () => {
    expect(() =>
      gaugeGeometry(dwell(2_000, 1_000), { length: 10, breadth: 4, marks: false }),
    ).toThrow(/above/);
  });

  it('a longer figure is given more room', () => {
    expect(figureWidthEm('+0:12')).toBeGreaterThan(figureWidthEm('0:12'));
  });
});

describe('a clock over a time that nobody knows', () => {
  const open = { elapsedLoMs: 12_000, elapsedHiMs: Number.POSITIVE_INFINITY };

  it.each([
    {
      what: 'under its limit so far',
      times: { kind: 'dwell', ...open, floorMs: 15_000, targetMs: 20_000, rimMs: 30_000 },
      reading: ['over', '0:12', 'at-least', 'limit may have passed'],
    },
    {
      what: 'past its limit for certain',
      times: { kind: 'window', ...open, rimMs: 10_000 },
      reading: ['over', '+0:02', 'over-by-at-least', 'limit passed'],
    },
    {
      what: 'without a limit',
      times: { kind: 'dwell', ...open, targetMs: 20_000 },
      reading: ['before', '0:00–0:08', 'to-target', undefined],
    },
    {
      what: 'of a hold that is certainly over',
      times: { kind: 'hold', ...open, floorMs: 10_000 },
      reading: ['reached', '0:12–?', 'held-for', undefined],
    },
    {
      what: 'that only counts',
      times: { kind: 'age', ...open },
      reading: ['counting', '0:12–?', 'elapsed', undefined],
    },
  ] as const)('$what', ({ times, reading }) => {
    const { phase, figure, words, furtherLine } = readClock(times);
    expect([phase, figure, words, furtherLine]).toEqual(reading);
    const drawing = gaugeGeometry(times, { length: 200, breadth: 40, marks: true });
    const figures = Object.values(drawing).filter((value) => typeof value === 'number');
    expect(figures.every(Number.isFinite), JSON.stringify(drawing)).toBe(true);
    // Filled to the top with what may have passed, and to its own height with what has.
    expect(drawing.bandY).toBeLessThanOrEqual(drawing.surfaceY);
    expect(gaugeName(times, 'phase')).toContain('at least 12');
  });
});
