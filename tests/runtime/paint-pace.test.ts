import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { present } from '../../src/base/assert.ts';
import type { Clock, Offer } from '../../src/engine/view-types.ts';
import { nextPaintMs, OTHERS_LATE_MS, QUIET_MS } from '../../src/runtime/paint-pace.ts';

const GAP_MS = 16;
const HOUR_MS = 3_600_000;
const AT_REST = { undoLeftMs: 0, gapMs: GAP_MS };

function clockAt(loMs: number, o: Partial<Clock> = {}): Clock {
  return {
    id: 'acid#0',
    kind: 'dwell',
    of: 'acid',
    title: 'Acid',
    subjects: ['tooth:11'],
    protects: null,
    minMs: null,
    targetMs: HOUR_MS,
    maxMs: null,
    severity: 'warning',
    amber: false,
    elapsed: { loMs, hiMs: loMs },
    ...o,
  } as Clock;
}

const ended = (dueInMs: number): Offer =>
  ({ id: 'end', kind: 'end', step: 'acid', subjects: ['tooth:11'], dueInMs }) as unknown as Offer;

describe('the pace of pictures', () => {
  test('without a clock, a picture a second', () => {
    expect(nextPaintMs({ clocks: [], offers: [], nextChangeInMs: null }, AT_REST)).toBe(1000);
  });

  test('the clock that the bar waits for turns over on its own beat', () => {
    const view = { clocks: [clockAt(2400)], offers: [ended(HOUR_MS - 2400)], nextChangeInMs: null };
    expect(nextPaintMs(view, AT_REST)).toBe(600);
  });

  test('a short clock fills in half seconds', () => {
    const view = {
      clocks: [clockAt(2400, { targetMs: 20_000 })],
      offers: [ended(17_600)],
      nextChangeInMs: null,
    };
    expect(nextPaintMs(view, AT_REST)).toBe(100);
  });

  test('the clocks that nobody waits for are drawn together', () => {
    const clocks = [clockAt(2990), clockAt(2950), clockAt(2800)];
    expect(nextPaintMs({ clocks, offers: [], nextChangeInMs: null }, AT_REST)).toBe(OTHERS_LATE_MS);
  });

  test('an end that nobody knows turns no figure over', () => {
    const elapsed = { loMs: 2400, hiMs: Number.POSITIVE_INFINITY } as Clock['elapsed'];
    const view = { clocks: [clockAt(2400, { elapsed })], offers: [], nextChangeInMs: null };
    expect(nextPaintMs(view, AT_REST)).toBe(600);
  });

  test('what is left of the undo counts down in seconds', () => {
    const view = { clocks: [], offers: [], nextChangeInMs: null };
    expect(nextPaintMs(view, { undoLeftMs: 9700, gapMs: GAP_MS })).toBe(700);
  });

  test('before something turns on time nothing else is drawn for a while', () => {
    // A figure turns over in 20 ms and might wait until 250.
    const others = [clockAt(2980)];
    const at = (dueMs: number) =>
      nextPaintMs({ clocks: others, offers: [], nextChangeInMs: dueMs }, AT_REST);
    expect(at(430)).toBe(430 - QUIET_MS);
    expect(QUIET_MS).toBeLessThan(OTHERS_LATE_MS);
    // Where nothing has turned over before the quiet, it comes together with what is due.
    expect(at(210)).toBe(210);
    expect(at(30)).toBe(30);
    expect(at(500)).toBe(OTHERS_LATE_MS);
  });

  test('whatever runs, no figure is late by more than is said, and pictures keep their distance', () => {
    const clocks = fc.array(
      fc.tuple(fc.double({ min: 0, max: HOUR_MS, noNaN: true }), fc.integer({ min: 0, max: 5000 })),
      { minLength: 1, maxLength: 60 },
    );
    fc.assert(
      fc.property(clocks, fc.option(fc.integer({ min: 1, max: 2000 })), (drawn, changeMs) => {
        const running = drawn.map(([loMs, wideMs], at) =>
          clockAt(loMs, {
            id: `c${at}`,
            of: `step-${at}`,
            elapsed: { loMs, hiMs: loMs + wideMs } as Clock['elapsed'],
          }),
        );
        const ms = nextPaintMs({ clocks: running, offers: [], nextChangeInMs: changeMs }, AT_REST);
        expect(ms).toBeGreaterThanOrEqual(GAP_MS);
        expect(ms).toBeLessThanOrEqual(1000);
        // Until the next picture no figure turned over longer ago than is allowed.
        for (const clock of running) {
          const rest = 1000 - (present(clock.elapsed.loMs, 'elapsed') % 1000);
          expect(ms - rest).toBeLessThanOrEqual(OTHERS_LATE_MS + 1e-6);
        }
      }),
    );
  });
});
