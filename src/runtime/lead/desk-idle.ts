/** When nobody has been at the open desk for so long that it closes itself. */
import type { Clock } from '../device/clock.ts';
import type { TimerHost } from '../device/timer-host.ts';

/** The desk closes itself after this long without a touch or a key. */
export const IDLE_MS = 5 * 60_000;

export class DeskIdle {
  readonly #clock: Clock;
  readonly #timers: Pick<TimerHost, 'after'>;
  readonly #onIdle: () => void;
  #cancel: () => void = () => undefined;
  #lastTouchMs: number | null = null;

  constructor(o: {
    readonly clock: Clock;
    readonly timers: Pick<TimerHost, 'after'>;
    readonly onIdle: () => void;
  }) {
    this.#clock = o.clock;
    this.#timers = o.timers;
    this.#onIdle = o.onIdle;
  }

  /** Somebody is at the desk: the idle time begins anew, unless it is over already. */
  touch(): void {
    if (this.isOver()) return;
    this.#lastTouchMs = this.#clock.stamp().monoMs;
    this.#cancel();
    this.#cancel = this.#timers.after(IDLE_MS, this.#onIdle);
  }

  /** Whether it is over; a timer that a sleeping tablet did not run is made up for. */
  isOver(): boolean {
    const isOver =
      this.#lastTouchMs !== null && this.#clock.stamp().monoMs - this.#lastTouchMs >= IDLE_MS;
    if (isOver) this.#onIdle();
    return isOver;
  }

  /** The desk is closed: nothing is waited for. */
  stop(): void {
    this.#cancel();
    this.#lastTouchMs = null;
  }
}
