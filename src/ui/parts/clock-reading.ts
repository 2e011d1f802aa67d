/**
 * What the chair clock says. Input: elapsed time as an interval and the limits, in milliseconds.
 * Output: the figure, the words under it and one further line. The figure changes once a second
 * because it is made of whole seconds only.
 */
import { unreachable } from '../../base/assert.ts';
import type { ClockWordsCode } from '../../words/codes.ts';
import {
  formatClock,
  formatClockInterval,
  formatOver,
  wholeSeconds,
} from '../../words/duration.ts';
import { partWords } from '../../words/part-words.ts';
import type { GaugeTimes } from './gauge-geometry.ts';

type ClockPhase = 'before' | 'past' | 'over' | 'reached' | 'counting';

export interface ClockReading {
  readonly phase: ClockPhase;
  readonly figure: string;
  readonly words: ClockWordsCode;
  /** The limit that comes next or was kept, in words; undefined when there is none to tell. */
  readonly furtherLine: string | undefined;
}

function elapsedFigure(times: GaugeTimes): string {
  return formatClockInterval({
    loMs: Math.max(0, times.elapsedLoMs),
    hiMs: Math.max(0, times.elapsedHiMs),
  });
}

/** What is left to `goalMs`; between nothing and everything when the elapsed time is uncertain. */
function leftFigure(times: GaugeTimes, goalMs: number): string {
  return formatClockInterval({
    loMs: Math.max(0, goalMs - times.elapsedHiMs),
    hiMs: Math.max(0, goalMs - times.elapsedLoMs),
    rounding: 'up',
  });
}

/** Nobody knows how long it was: the limit counts as passed, and the figure tells what is known. */
function openEndedReading(times: GaugeTimes, rimMs: number): ClockReading {
  const overMs = times.elapsedLoMs - rimMs;
  const isCertain = overMs > 0;
  return {
    phase: 'over',
    figure: isCertain ? formatOver(overMs) : formatClock(Math.max(0, times.elapsedLoMs)),
    words: isCertain ? 'over-by-at-least' : 'at-least',
    furtherLine: isCertain ? partWords.atLimit : partWords.perhapsOver,
  };
}

function overReading(times: GaugeTimes, rimMs: number): ClockReading {
  if (!Number.isFinite(times.elapsedHiMs)) return openEndedReading(times, rimMs);
  const loMs = times.elapsedLoMs - rimMs;
  const hiMs = times.elapsedHiMs - rimMs;
  const exact = wholeSeconds(loMs, 'up') === wholeSeconds(hiMs, 'up');
  const certain = loMs > 0;
  const figure =
    exact || !certain
      ? formatOver(hiMs)
      : `+${formatClockInterval({ loMs: Math.max(0, loMs), hiMs, rounding: 'up' })}`;
  return {
    phase: 'over',
    figure,
    words: exact || certain ? 'over-by' : 'over-by-up-to',
    furtherLine: certain ? partWords.atLimit : partWords.perhapsOver,
  };
}

function limitLine(times: GaugeTimes): string | undefined {
  const { rimMs } = times;
  return rimMs === undefined ? undefined : partWords.toLimit(leftFigure(times, rimMs));
}

function dwellReading(times: GaugeTimes): ClockReading {
  const goalMs = times.targetMs ?? times.floorMs;
  const { floorMs } = times;
  if (goalMs === undefined) return openReading(times);
  if (times.elapsedLoMs >= goalMs) {
    return {
      phase: 'past',
      figure: formatOver(times.elapsedLoMs - goalMs),
      words: 'past-target',
      furtherLine: limitLine(times),
    };
  }
  const underFloor = floorMs !== undefined && floorMs < goalMs && times.elapsedLoMs < floorMs;
  return {
    phase: 'before',
    figure: leftFigure(times, goalMs),
    words: 'to-target',
    furtherLine: underFloor ? partWords.toMinimum(leftFigure(times, floorMs)) : limitLine(times),
  };
}

function openReading(times: GaugeTimes): ClockReading {
  if (times.rimMs === undefined) {
    return {
      phase: 'counting',
      figure: elapsedFigure(times),
      words: 'elapsed',
      furtherLine: undefined,
    };
  }
  return {
    phase: 'before',
    figure: leftFigure(times, times.rimMs),
    words: 'left-in-window',
    furtherLine: undefined,
  };
}

function goalReading(
  times: GaugeTimes,
  goalMs: number | undefined,
  words: { readonly before: ClockWordsCode; readonly reached: ClockWordsCode },
): ClockReading {
  if (goalMs === undefined) return openReading(times);
  if (times.elapsedLoMs >= goalMs) {
    return {
      phase: 'reached',
      figure: elapsedFigure(times),
      words: words.reached,
      furtherLine: undefined,
    };
  }
  return {
    phase: 'before',
    figure: leftFigure(times, goalMs),
    words: words.before,
    furtherLine: undefined,
  };
}

/** Reads the clock. A minimum is judged by the low end, a maximum by the high end. */
export function readClock(times: GaugeTimes): ClockReading {
  const { kind, rimMs } = times;
  if (rimMs !== undefined && times.elapsedHiMs > rimMs) return overReading(times, rimMs);
  switch (kind) {
    case 'dwell':
      return dwellReading(times);
    case 'window':
      return openReading(times);
    case 'hold':
      return goalReading(times, times.floorMs ?? times.targetMs, {
        before: 'to-hold',
        reached: 'held-for',
      });
    case 'exposure':
      return goalReading(times, times.targetMs ?? times.floorMs, {
        before: 'to-give',
        reached: 'given',
      });
    case 'age':
      return {
        phase: 'counting',
        figure: elapsedFigure(times),
        words: 'elapsed',
        furtherLine: limitLine(times),
      };
    default:
      return unreachable(kind);
  }
}

/** The figure that a narrow list shows: what is left, or the time over with its plus sign. */
export function readRemaining(times: GaugeTimes): ClockReading {
  const reading = readClock(times);
  if (times.kind !== 'age' || reading.phase === 'over') return reading;
  return openReading(times);
}

/** Width of a figure in em of the bundled font, so that it can be fitted to its room. */
export function figureWidthEm(figure: string): number {
  let widthEm = 0;
  for (const character of figure) {
    if (character === ':') widthEm += 0.3;
    else if (character === '\u2013') widthEm += 0.58;
    else widthEm += 0.64;
  }
  return widthEm;
}

/** Where a figure may break into two lines: behind the dash of an interval. */
export function figurePieces(figure: string): readonly string[] {
  const dash = figure.indexOf('\u2013');
  return dash < 0 ? [figure] : [figure.slice(0, dash + 1), figure.slice(dash + 1)];
}
