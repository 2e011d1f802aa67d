import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { entryText, readDuration } from '../../src/protocol/duration-entry.ts';
import { DURATION_MS_MAX } from '../../src/protocol/schema-parts.ts';

describe('a length of time as people type it', () => {
  // Units as in the SI Brochure, 9th edition (2019), table 8; the forms themselves are common practice.
  it.each([
    ['20', 20_000],
    ['20 s', 20_000],
    ['20s', 20_000],
    [' 90 sec ', 90_000],
    ['1:30', 90_000],
    ['0:05', 5_000],
    ['1:02:03', 3_723_000],
    ['1.5 min', 90_000],
    ['1,5 min', 90_000],
    ['2 min 30 s', 150_000],
    ['2min30s', 150_000],
    ['1 h 10 min', 4_200_000],
    ['24 h', 86_400_000],
    ['1 d', 86_400_000],
    ['0.5 s', 500],
    ['1\u00a0min', 60_000],
    ['1 Minute', 60_000],
    ['250 ms', 250],
  ])('%s is %d ms', (text, ms) => {
    expect(readDuration(text)).toEqual({ ok: true, value: ms });
  });

  it.each([
    ['', 'empty'],
    ['  ', 'empty'],
    ['soon', 'not-a-duration'],
    ['1:75', 'not-a-duration'],
    ['1:60:00', 'not-a-duration'],
    ['20 20', 'not-a-duration'],
    ['30 s 2 min', 'not-a-duration'],
    ['5 s 5 s', 'not-a-duration'],
    ['-20 s', 'not-a-duration'],
    ['20 parsecs', 'not-a-duration'],
    ['1e9', 'not-a-duration'],
    ['0', 'not-above-zero'],
    ['0:00', 'not-above-zero'],
    ['31 d', 'too-long'],
    ['9'.repeat(50), 'not-a-duration'],
  ])('"%s" is refused as %s', (text, why) => {
    expect(readDuration(text)).toEqual({ ok: false, error: why });
  });

  it('is offered for editing so that it reads back to the same', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: DURATION_MS_MAX }), (ms) => {
        expect(readDuration(entryText(ms))).toEqual({ ok: true, value: ms });
        const whole = Math.max(1, Math.round(ms / 1000)) * 1000;
        expect(readDuration(entryText(whole))).toEqual({ ok: true, value: whole });
      }),
    );
  });

  it('never crashes, whatever is typed', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 60 }), (text) => {
        const read = readDuration(text);
        if (read.ok) expect(Number.isSafeInteger(read.value)).toBe(true);
      }),
      { numRuns: 2000 },
    );
  });
});
