/**
 * Looks at both clocks each second, so that a sleep or a moved clock is noticed at once and not only
 * at the next press.
 */
import { CLOCKS_AGREE_MS } from '../../engine/axis.ts';
import type { NotedCause, Stamp } from '../../engine/types.ts';
import type { Clock } from './clock.ts';
import type { TimerHost } from './timer-host.ts';
import type { Visibility } from './visibility.ts';

export type HeartbeatReport =
  | { readonly kind: 'beat'; readonly stamp: Stamp }
  | {
      /**
       * The clocks advanced by different amounts since they were last taken to agree; `before` is the
       * last beat at which that was still too little to be told.
       */
      readonly kind: 'disagree';
      readonly before: Stamp;
      readonly after: Stamp;
      readonly cause: Exclude<NotedCause, 'closed'>;
    };

export interface Heartbeat {
  /** Begins to beat; the first comparison is with the clocks as they are now. */
  start(): void;
  stop(): void;
  /** Compares now, out of turn: before a press is taken after a silence. */
  beatNow(): void;
}

/**
 * Makes a {@link Heartbeat}. It beats every second of real time, and at once when the page wakes.
 *
 * @param options.clock the clock of the case; a rehearsal's is compared at its own speed.
 */
export function createHeartbeat(options: {
  readonly clock: Clock;
  readonly timers: TimerHost;
  readonly visibility: Pick<Visibility, 'onWake'>;
  readonly onReport: (report: HeartbeatReport) => void;
  readonly beatMs?: number;
}): Heartbeat {
  const beatMs = options.beatMs ?? 1000;
  let before: Stamp | undefined;
  /** What the clocks are compared with: the reading before would let many small slips pass. */
  let anchor: Stamp | undefined;
  let cancelNext: (() => void) | undefined;
  let forgetWake: (() => void) | undefined;

  const beatNow = (): void => {
    if (before === undefined || anchor === undefined) return;
    const after = options.clock.stamp();
    const cause = disagreement(anchor, after);
    const report: HeartbeatReport =
      cause === undefined
        ? { kind: 'beat', stamp: after }
        : { kind: 'disagree', before, after, cause };
    before = after;
    if (cause !== undefined) anchor = after;
    options.onReport(report);
  };
  const stop = (): void => {
    cancelNext?.();
    forgetWake?.();
    before = undefined;
    anchor = undefined;
  };
  const again = (): void => {
    cancelNext = options.timers.after(beatMs, () => {
      // Set first: a listener that throws must not stop the heart.
      again();
      beatNow();
    });
  };

  return {
    start() {
      stop();
      before = options.clock.stamp();
      anchor = before;
      forgetWake = options.visibility.onWake(beatNow);
      again();
    },
    stop,
    beatNow,
  };
}

/** What the two stamps of one run say happened between them; undefined when the clocks agree. */
function disagreement(before: Stamp, after: Stamp): Exclude<NotedCause, 'closed'> | undefined {
  const slipMs = after.wallMs - before.wallMs - (after.monoMs - before.monoMs);
  if (slipMs > CLOCKS_AGREE_MS) return 'asleep-or-moved';
  if (slipMs < -CLOCKS_AGREE_MS) return 'moved-back';
  return undefined;
}
