/** A running clock as the gauge wants it. */
import type { Clock } from '../../engine/view-types.ts';
import type { GaugeTimes } from '../parts/gauge-geometry.ts';

/** The bounds of a clock as the gauge wants them. */
export function clockTimes(clock: Clock): GaugeTimes {
  const kind = clock.kind === 'rest' ? 'hold' : clock.kind;
  return {
    kind,
    elapsedLoMs: clock.elapsed.loMs,
    elapsedHiMs: clock.elapsed.hiMs,
    ...(clock.minMs === null ? {} : { floorMs: clock.minMs }),
    ...(clock.targetMs === null ? {} : { targetMs: clock.targetMs }),
    ...(clock.maxMs === null ? {} : { rimMs: clock.maxMs }),
  };
}
