import fc from 'fast-check';
import { describe, expect, test, vi } from 'vitest';
import {
  acceleratedClock,
  type RehearsalSpeed,
  realClock,
} from '../../src/runtime/device/clock.ts';
import { manualClock } from './manual-clock.ts';

describe('real clock', () => {
  test('gives whole milliseconds of both clocks and the name of the run', () => {
    const readings = { wallMs: () => 1_000.9, monoMs: () => 12.7 };
    const clock = realClock({ runId: 'r', readings });
    expect(clock.stamp()).toEqual({ wallMs: 1000, monoMs: 12, runId: 'r' });
    expect(clock.toRealDelayMs(500)).toBe(500);
  });

  test("reads the device's own clocks when none are handed over", () => {
    vi.useFakeTimers();
    try {
      vi.setSystemTime(86_400_000);
      const clock = realClock({ runId: 'r' });
      const before = clock.stamp();
      vi.advanceTimersByTime(1234);
      expect(before.wallMs).toBe(86_400_000);
      expect(clock.stamp().wallMs - before.wallMs).toBe(1234);
      expect(clock.stamp().monoMs - before.monoMs).toBe(1234);
    } finally {
      vi.useRealTimers();
    }
  });
});

describe('accelerated clock', () => {
  const startAt60 = () => {
    const real = manualClock({ wallMs: 5000, monoMs: 70 });
    const clock = acceleratedClock(real, { speed: 60, startWallMs: 1_000_000, runId: 'rehearsal' });
    return { real, clock };
  };

  test('lets a minute pass in a second, on both clocks, in a run of its own', () => {
    const { real, clock } = startAt60();
    real.advance(1000);
    expect(clock.stamp()).toEqual({ wallMs: 1_060_000, monoMs: 60_000, runId: 'rehearsal' });
    expect(clock.toRealDelayMs(30_000)).toBe(500);
  });

  test('changes its speed without a jump', () => {
    const { real, clock } = startAt60();
    real.advance(1000);
    clock.setSpeed(1);
    expect(clock.stamp().monoMs).toBe(60_000);
    real.advance(1000);
    expect(clock.stamp().monoMs).toBe(61_000);
    expect(clock.toRealDelayMs(500)).toBe(500);
  });

  test.each([1, 10, 60] as const)(
    'at %s times the speed keeps slips of a few milliseconds back, and drops none of them',
    (speed) => {
      const real = manualClock({ wallMs: 5000, monoMs: 70 });
      const clock = acceleratedClock(real, { speed, startWallMs: 1_000_000, runId: 'rehearsal' });
      const slips = Array.from({ length: 100 }, () => {
        real.advance(1000);
        real.moveWall(3);
        const { wallMs, monoMs } = clock.stamp();
        return wallMs - 1_000_000 - monoMs;
      });
      // 83 slips of 3 ms are 249 ms, which still counts as agreement; with the next it is 252 ms.
      expect(slips.slice(0, 83)).toEqual(Array(83).fill(0));
      expect(slips.slice(83)).toEqual(Array(17).fill(252 * speed));
    },
  );

  test('takes a slip over at the speed of its own time', () => {
    const { real, clock } = startAt60();
    real.moveWall(200);
    clock.setSpeed(1);
    real.moveWall(51);
    const { wallMs, monoMs } = clock.stamp();
    expect(wallMs - 1_000_000 - monoMs).toBe(200 * 60 + 51);
  });

  test('shows a real sleep, multiplied, as a disagreement of its clocks', () => {
    const { real, clock } = startAt60();
    real.sleep(2000);
    const { wallMs, monoMs } = clock.stamp();
    expect(monoMs).toBe(0);
    expect(wallMs).toBe(1_000_000 + 120_000);
  });

  test('never runs backwards, whatever the speeds and steps (property)', () => {
    const speeds = fc.constantFrom<RehearsalSpeed>(1, 10, 60);
    fc.assert(
      fc.property(fc.array(fc.tuple(fc.nat(5000), speeds), { minLength: 1 }), (steps) => {
        const { real, clock } = startAt60();
        let speed: RehearsalSpeed = 60;
        let expectedMs = 0;
        for (const [ms, next] of steps) {
          real.advance(ms);
          expectedMs += ms * speed;
          expect(clock.stamp().monoMs).toBe(expectedMs);
          clock.setSpeed(next);
          speed = next;
        }
      }),
    );
  });
});
