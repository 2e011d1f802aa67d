/**
 * The door to the device's clocks: nothing else reads them. A stamp holds both, the wall clock
 * (which a person or the network can move) and the monotonic clock (which may stop while the device
 * sleeps), so that their disagreement can be seen later.
 */
import { monoMs, wallMs } from '../../base/units.ts';
import { CLOCKS_AGREE_MS } from '../../engine/axis.ts';
import type { Stamp } from '../../engine/types.ts';

/** Where the time of a case comes from. */
export interface Clock {
  /** What both clocks say now, in whole ms. */
  stamp(): Stamp;
  /** How many ms of this clock pass in one real ms. */
  readonly speed: number;
  /** The real ms to wait until `simMs` have passed on this clock. */
  toRealDelayMs(simMs: number): number;
}

/** What the device's two clocks read, in ms; fractions are allowed. */
interface ClockReadings {
  wallMs(): number;
  monoMs(): number;
}

const deviceReadings: ClockReadings = {
  wallMs: () => Date.now(),
  monoMs: () => performance.now(),
};

/**
 * The clock of the device.
 *
 * @param options.runId names this run of the page; monotonic readings of two runs do not compare.
 * @param options.readings the two clocks; the device's own when left out.
 */
export function realClock(options: {
  readonly runId: string;
  readonly readings?: ClockReadings;
}): Clock {
  const readings = options.readings ?? deviceReadings;
  return {
    stamp: () => ({
      wallMs: wallMs(Math.floor(readings.wallMs())),
      monoMs: monoMs(Math.floor(readings.monoMs())),
      runId: options.runId,
    }),
    speed: 1,
    toRealDelayMs: (simMs) => simMs,
  };
}

/** How fast a rehearsal may run. */
export type RehearsalSpeed = 1 | 10 | 60;

/** A clock for rehearsals, whose speed can change while it runs. */
export interface AcceleratedClock extends Clock {
  /** Goes on from the present instant at another speed, without a jump. */
  setSpeed(speed: RehearsalSpeed): void;
}

/**
 * A clock that starts at `startWallMs` and runs `speed` times as fast as `real`. It is a run of its
 * own (`runId`), because its monotonic readings do not compare with the device's.
 *
 * Multiplying a harmless slip of a few ms between the device's clocks would make it look like a
 * sleep. So the fast wall clock follows the fast monotonic clock, and takes over a real
 * disagreement, multiplied, only when it exceeds the tolerance since the one before was taken over:
 * small slips wait and add up, none is dropped.
 */
export function acceleratedClock(
  real: Clock,
  options: {
    readonly speed: RehearsalSpeed;
    readonly startWallMs: number;
    /** What its monotonic reading begins with; 0 when left out. */
    readonly startMonoMs?: number;
    readonly runId: string;
  },
): AcceleratedClock {
  let speed = options.speed;
  let last = real.stamp();
  const { startMonoMs = 0 } = options;
  let simMonoMs = startMonoMs;
  let simWallMs = options.startWallMs;
  let wallAheadMs = 0;
  /** Slips not taken over yet: as the device's clocks had them, and at the speeds of their time. */
  let waiting = { realMs: 0, simMs: 0 };

  const advance = (): void => {
    const now = real.stamp();
    const byMonoMs = now.monoMs - last.monoMs;
    const slipMs = now.wallMs - last.wallMs - byMonoMs;
    simMonoMs += byMonoMs * speed;
    waiting = { realMs: waiting.realMs + slipMs, simMs: waiting.simMs + slipMs * speed };
    if (Math.abs(waiting.realMs) > CLOCKS_AGREE_MS) {
      wallAheadMs += waiting.simMs;
      waiting = { realMs: 0, simMs: 0 };
    }
    const nextMs = options.startWallMs + (simMonoMs - startMonoMs) + wallAheadMs;
    // Only a wall clock that went back itself may be seen to: taking over what had waited must not
    // make a slow one look like it, since a clock that goes back counts as the wrong one.
    simWallMs = now.wallMs < last.wallMs ? nextMs : Math.max(simWallMs, nextMs);
    last = now;
  };

  return {
    stamp() {
      advance();
      return {
        wallMs: wallMs(simWallMs),
        monoMs: monoMs(simMonoMs),
        runId: options.runId,
      };
    },
    get speed() {
      return speed;
    },
    toRealDelayMs: (simMs) => real.toRealDelayMs(simMs / speed),
    setSpeed(next) {
      advance();
      speed = next;
    },
  };
}
