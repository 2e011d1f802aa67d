import { monoMs, wallMs } from '../../src/base/units.ts';
import type { Clock } from '../../src/runtime/device/clock.ts';

/** A clock that moves only when it is told to. */
export interface ManualClock extends Clock {
  /** Lets `ms` pass on both clocks. */
  advance(ms: number): void;
  /** Lets `ms` pass while the monotonic clock stands still, as in a sleep. */
  sleep(ms: number): void;
  /** Moves the wall clock by `ms`, forwards or back, as a person would. */
  moveWall(ms: number): void;
  /** Begins another run of the page: the monotonic clock starts again at 0. */
  restart(runId: string): void;
}

/** Makes a {@link ManualClock}. */
export function manualClock(
  start: { readonly wallMs?: number; readonly monoMs?: number; readonly runId?: string } = {},
): ManualClock {
  let wall = start.wallMs ?? 0;
  let mono = start.monoMs ?? 0;
  let runId = start.runId ?? 'run-1';
  const moveWall = (ms: number): void => {
    wall += ms;
  };
  return {
    stamp: () => ({ wallMs: wallMs(wall), monoMs: monoMs(mono), runId }),
    speed: 1,
    toRealDelayMs: (simMs) => simMs,
    advance(ms) {
      wall += ms;
      mono += ms;
    },
    sleep: moveWall,
    moveWall,
    restart(nextRunId) {
      runId = nextRunId;
      mono = 0;
    },
  };
}
