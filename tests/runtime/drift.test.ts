/**
 * Clocks that run apart slowly, a little at each reading: what the case axis knows, through the
 * clock of a case, its heartbeat and the engine. The world has a true time; at least one of the two
 * clocks of the device follows it.
 */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { CLOCKS_AGREE_MS, elapsed } from '../../src/engine/axis.ts';
import { decide, decideOpening } from '../../src/engine/decide.ts';
import { type CaseLog, extend, momentsOf, recordPress } from '../../src/engine/log.ts';
import type { CaseInstant, CaseState } from '../../src/engine/types.ts';
import { nowOf } from '../../src/engine/view.ts';
import {
  acceleratedClock,
  type RehearsalSpeed,
  realClock,
} from '../../src/runtime/device/clock.ts';
import { createHeartbeat } from '../../src/runtime/device/heartbeat.ts';
import { tellReadBack } from '../../src/words/read-back-words.ts';
import { rehearsalOf } from '../engine/chair.ts';
import { ETCH_ROUND, settingOf } from '../engine/fixture.ts';
import { fakeWake } from './fake-page.ts';
import { fakeTime } from './fake-time.ts';

const opening = decideOpening(rehearsalOf(settingOf(ETCH_ROUND, ['11'])));

/** A device in a world of its own; `speed` as in a rehearsal. */
class World {
  /** True ms since the opening, on the axis of the case. */
  trueMs = 0;
  log: CaseLog;
  readonly #readings = { wall: 1_800_000_000_000, mono: 5000 };
  readonly #time = fakeTime();
  readonly #clock;
  readonly #speed: RehearsalSpeed;

  constructor(speed: RehearsalSpeed = 1) {
    this.#speed = speed;
    const { wall } = this.#readings;
    const readings = { wallMs: () => this.#readings.wall, monoMs: () => this.#readings.mono };
    const real = realClock({ runId: 'device', readings });
    this.#clock = acceleratedClock(real, { speed, startWallMs: wall, runId: 'case' });
    if (!opening.ok) throw new Error(opening.error.code);
    const stamp = this.#clock.stamp();
    this.log = extend(null, recordPress({ log: null, events: opening.value, stamp, by: 'a' }));
    createHeartbeat({
      clock: this.#clock,
      timers: this.#time.timers,
      visibility: fakeWake(),
      onReport: (report) => {
        if (report.kind === 'beat') return;
        const { before, after, cause } = report;
        this.#do({ do: 'note-gap', before, after, cause }, null);
      },
    }).start();
  }

  #do(command: Parameters<typeof decide>[1], by: string | null): void {
    const stamp = this.#clock.stamp();
    const decided = decide(this.log, command, stamp, tellReadBack);
    if (!decided.ok) throw new Error(decided.error.code);
    this.log = extend(this.log, recordPress({ log: this.log, events: decided.value, stamp, by }));
  }

  /** Lets `ms` of true time pass on the device, its clocks at these rates; beats in between. */
  pass(ms: number, rates: { readonly wall?: number; readonly mono?: number } = {}): this {
    for (let left = ms; left > 0; left -= 250) {
      const stepMs = Math.min(250, left);
      this.trueMs += stepMs * this.#speed;
      this.#readings.wall += stepMs * (rates.wall ?? 1);
      this.#readings.mono += stepMs * (rates.mono ?? 1);
      this.#time.pass(stepMs);
    }
    return this;
  }

  slip(by: { readonly wall?: number; readonly mono?: number }): this {
    this.#readings.wall += by.wall ?? 0;
    this.#readings.mono += by.mono ?? 0;
    return this;
  }

  press(): this {
    this.#do({ do: 'note', words: 'here' }, 'a');
    return this;
  }

  get state(): CaseState {
    return this.log.state;
  }

  /** A picture is made often; nothing may come of reading the clocks. */
  get now(): CaseInstant {
    return nowOf(this.state, this.#clock.stamp());
  }

  get elapsed(): readonly number[] {
    const { loMs, hiMs } = elapsed({ loMs: 0, hiMs: 0 } as CaseInstant, this.now);
    return [loMs, hiMs];
  }

  get causes(): readonly string[] {
    return this.state.gaps.map((g) => g.cause);
  }
}

describe('clocks that run apart slowly', () => {
  test('a monotonic clock at 0.8 of its speed makes an interval that holds the true time', () => {
    const world = new World().pass(30_700, { mono: 0.8 });
    const [loMs = 0, hiMs = 0] = world.elapsed;
    expect(loMs).toBe(24_560);
    expect(hiMs).toBeGreaterThanOrEqual(30_700 - CLOCKS_AGREE_MS);
    expect(hiMs).toBeLessThanOrEqual(30_700);
    expect(new Set(world.causes)).toEqual(new Set(['asleep-or-moved']));
  });

  test.each([
    // Disciplined clocks differ by some ppm from a quartz; RFC 5905 takes 15 ppm as its tolerance.
    { what: 'drifts by 15 ppm', ppm: 15, gaps: 0 },
    { what: 'drifts by 20 ppm', ppm: 20, gaps: 0 },
    { what: 'drifts by -20 ppm', ppm: -20, gaps: 0 },
    { what: 'drifts by 100 ppm', ppm: 100, gaps: 4 },
    // The fastest that adjtime slews on common systems.
    { what: 'is slewed by 500 ppm', ppm: 500, gaps: 21 },
  ])('a wall clock that $what raises $gaps gaps in three hours', ({ ppm, gaps }) => {
    const world = new World().pass(3 * 3_600_000, { wall: 1 + ppm / 1e6 });
    expect(world.causes).toHaveLength(gaps);
    const [loMs = 0, hiMs = 0] = world.elapsed;
    expect(loMs).toBeLessThanOrEqual(world.trueMs);
    expect(hiMs).toBeGreaterThanOrEqual(world.trueMs);
    expect(hiMs - loMs).toBeLessThanOrEqual((3 * 3_600_000 * Math.abs(ppm)) / 1e6 + 2 * gaps);
  });

  test.each([1, 10, 60] as const)('are told at %s times the speed', (speed) => {
    const world = new World(speed).pass(10_000, { mono: 0.9 });
    const [loMs = 0, hiMs = 0] = world.elapsed;
    expect(loMs).toBe(9000 * speed);
    expect(hiMs).toBeGreaterThanOrEqual((10_000 - CLOCKS_AGREE_MS) * speed);
    expect(hiMs).toBeLessThanOrEqual(10_000 * speed);
  });

  test('a wall clock that falls behind is believed as well, until it goes back itself', () => {
    const slow = new World().pass(10_000, { wall: 0.9 });
    const [loMs = 0, hiMs = 0] = slow.elapsed;
    expect(hiMs).toBe(10_000);
    expect(loMs).toBeLessThanOrEqual(9000 + CLOCKS_AGREE_MS);
    expect(new Set(slow.causes)).toEqual(new Set(['moved-back']));
    const moved = new World().pass(10_000).press().slip({ wall: -3_600_000 }).pass(10_000);
    expect(moved.elapsed).toEqual([20_000, 20_000]);
  });

  test('what begins and ends between two gaps is exact', () => {
    const world = new World().pass(5000, { mono: 0.8 });
    const from = world.now;
    world.pass(20_000);
    expect(elapsed(from, world.now)).toEqual({ loMs: 20_000, hiMs: 20_000 });
  });

  test.each([1, 10, 60] as const)(
    'at %s times the speed the true time lies in the interval whenever one of them is right',
    (speed) => {
      const row = fc.record({
        what: fc.constantFrom('pass', 'slip', 'press', 'look'),
        ms: fc.integer({ min: 1, max: 20_000 }),
        // From a clock that stands to one that runs at twice its speed.
        rate: fc.double({ min: 0, max: 2, noNaN: true }),
        slipMs: fc.oneof(fc.integer({ min: -400, max: 400 }), fc.integer({ min: -9e4, max: 9e4 })),
      });
      const rows = fc.array(row, { minLength: 1, maxLength: 40 });
      fc.assert(
        fc.property(fc.constantFrom('wall', 'mono'), rows, (wrong, script) => {
          const world = new World(speed);
          const trueAt: number[] = [0];
          for (const { what, ms, rate, slipMs } of script) {
            if (what === 'pass') world.pass(ms, { [wrong]: rate });
            // A monotonic clock may leap, never go back.
            else if (what === 'slip')
              world.slip(wrong === 'wall' ? { wall: slipMs } : { mono: Math.abs(slipMs) });
            else if (what === 'look') void world.now;
            else {
              trueAt.push(world.trueMs);
              world.press();
            }
          }
          // Up to the tolerance the clocks count as agreeing, at each of the two ends.
          const slackMs = 2 * (CLOCKS_AGREE_MS + 2) * speed;
          const presses = world.log.records.filter((r) => r.by === 'a').map((r) => r.press);
          const moments = momentsOf(world.log);
          const known = presses.map((press, n) => ({
            at: moments.get(press) as CaseInstant,
            trueMs: trueAt[n] ?? Number.NaN,
          }));
          known.push({ at: world.now, trueMs: world.trueMs });
          known.forEach((from, i) => {
            for (const to of known.slice(i + 1)) {
              const { loMs, hiMs } = elapsed(from.at, to.at);
              const trueMs = to.trueMs - from.trueMs;
              expect(loMs).toBeLessThanOrEqual(trueMs + slackMs);
              expect(hiMs).toBeGreaterThanOrEqual(trueMs - slackMs);
            }
          });
        }),
        { numRuns: 150 },
      );
    },
  );
});
