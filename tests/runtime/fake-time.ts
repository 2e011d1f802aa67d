import type { TimerHost } from '../../src/runtime/device/timer-host.ts';
import { type ManualClock, manualClock } from './manual-clock.ts';

/** A clock and the timers that run on it: nothing waits, time passes when the test says so. */
export interface FakeTime {
  readonly clock: ManualClock;
  readonly timers: TimerHost;
  /** Lets `ms` pass in steps of one timer at a time; `alongside` is told of each step. */
  pass(ms: number): void;
  /** Called with every step of time, before the timers that are due at its end. */
  onStep(listener: (ms: number) => void): void;
}

export function fakeTime(start: { readonly wallMs?: number } = {}): FakeTime {
  const clock = manualClock(start);
  const waiting = new Map<number, { readonly atMs: number; readonly callback: () => void }>();
  const listeners: ((ms: number) => void)[] = [];
  let nextId = 1;
  const step = (ms: number): void => {
    clock.advance(ms);
    for (const listener of listeners) listener(ms);
  };
  return {
    clock,
    timers: {
      after(delayMs, callback) {
        const id = nextId++;
        waiting.set(id, { atMs: clock.stamp().monoMs + Math.max(0, delayMs), callback });
        return () => waiting.delete(id);
      },
      route: 'worker',
      dispose: () => waiting.clear(),
    },
    onStep: (listener) => listeners.push(listener),
    pass(ms) {
      const endMs = clock.stamp().monoMs + ms;
      for (;;) {
        const due = [...waiting].sort((a, b) => a[1].atMs - b[1].atMs)[0];
        if (due === undefined || due[1].atMs > endMs) break;
        step(Math.max(0, due[1].atMs - clock.stamp().monoMs));
        waiting.delete(due[0]);
        due[1].callback();
      }
      step(endMs - clock.stamp().monoMs);
    },
  };
}

/** Lets promises that are already settled run their course. */
export async function settle(): Promise<void> {
  for (let i = 0; i < 10; i += 1) await Promise.resolve();
}
