/** Worked by hand from the bounds of a sweep; the arithmetic of intervals is the source. */
import { describe, expect, it } from 'vitest';
import { sweptDwells, sweptRoundSizes } from '../../src/calc/swept-rounds.ts';

const ETCH = {
  applySeconds: 4,
  rinseSeconds: 4,
  minSeconds: 30,
  maxSeconds: 60,
  start: { shortest: 2, longest: 4 },
  end: { shortest: 2, longest: 4 },
};

describe('rounds of a dwell that is swept', () => {
  it('know every dwell between two ends', () => {
    // Four teeth: the last is begun 16 s after the press at the latest, so the end is pressed at 46 s.
    expect(sweptDwells(4, ETCH)).toEqual([
      { lo: 42, hi: 50 },
      { lo: 40, hi: 52 },
      { lo: 38, hi: 54 },
      { lo: 36, hi: 56 },
    ]);
  });

  it('are as large as keeps the maximum by the longer end, and as even as possible', () => {
    expect(sweptRoundSizes(6, ETCH)).toEqual({ ok: true, value: [3, 3] });
    expect(sweptRoundSizes(8, ETCH)).toEqual({ ok: true, value: [4, 4] });
  });

  it('leave each alone where no two fit', () => {
    expect(sweptRoundSizes(3, { ...ETCH, maxSeconds: 35 })).toEqual({ ok: false, error: 'alone' });
  });

  it('with a press for each beginning are limited by the end alone', () => {
    const { start: _, ...pressed } = ETCH;
    const [first, second] = sweptDwells(2, pressed);
    expect(first).toEqual({ lo: 34, hi: 38 });
    expect(second).toEqual({ lo: 32, hi: 38 });
  });
});
