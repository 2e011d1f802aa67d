import { signal } from '../signal.ts';
import type { TimerHost } from './timer-host.ts';
import type { Visibility } from './visibility.ts';

/** Why the alarm fired: its time came, or the page woke up and may have missed it. */
type AlarmCause = 'due' | 'woke';

/** The one timer that is set for the next change of what is on the screen. */
export interface AlarmTimer {
  /** Fires once after `delayMs` of real time. An earlier arming is forgotten. */
  arm(delayMs: number): void;
  cancel(): void;
  /**
   * Calls `listener` when the alarm fires. It also fires, with `woke`, when the page comes back to
   * life while armed: a timer set before a sleep proves nothing after it. The listener computes
   * afresh what is due and arms again; there may be nothing due.
   */
  onFire(listener: (cause: AlarmCause) => void): () => void;
  dispose(): void;
}

/** Makes the {@link AlarmTimer} of a page. */
export function createAlarmTimer(options: {
  readonly timers: TimerHost;
  readonly visibility: Pick<Visibility, 'onWake'>;
}): AlarmTimer {
  const fired = signal<AlarmCause>();
  let disarm: (() => void) | undefined;

  const cancel = (): void => {
    disarm?.();
    disarm = undefined;
  };
  const fire = (cause: AlarmCause): void => {
    cancel();
    fired.emit(cause);
  };
  const forgetWake = options.visibility.onWake(() => {
    if (disarm !== undefined) fire('woke');
  });

  return {
    arm(delayMs) {
      cancel();
      disarm = options.timers.after(delayMs, () => fire('due'));
    },
    cancel,
    onFire: fired.listen,
    dispose() {
      cancel();
      forgetWake();
    },
  };
}
