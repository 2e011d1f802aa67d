import type { CSSProperties } from 'react';
import './watch-block.css';
import { partWords } from '../../words/part-words.ts';
import { figurePieces, readRemaining } from './clock-reading.ts';
import { Gauge } from './Gauge.tsx';
import type { RunningClock } from './WindowList.tsx';

/** A letter of the typeface is at most so wide on average, as a share of its size. */
const LETTER_EM = 0.58;
/** A label up to so many letters stands in one line, a longer one in two. */
const ONE_LINE = 12;

/** Width of the line that the label is fitted to, in em. */
function labelEm(label: string): string {
  const whole = label.length <= ONE_LINE ? label.length : Math.ceil(label.length / 2) + 2;
  const longest = Math.max(...label.split(' ').map((word) => word.length));
  return (LETTER_EM * Math.max(whole, longest)).toFixed(2);
}

/**
 * A clock that is watched beside what is in hand: its own step and teeth in type as large as the heading,
 * so that nobody reads its figure as the time of the thing in hand.
 */
export function WatchBlock({ clock }: { readonly clock: RunningClock }) {
  const reading = readRemaining(clock.times);
  const words = clock.words ?? partWords.clock[reading.words];
  const pieces = figurePieces(reading.figure);
  return (
    <div
      className="lw-watch"
      role="timer"
      aria-label={partWords.clockName({ label: clock.label, figure: reading.figure, words })}
      data-level={clock.level}
      style={{ '--label-em': labelEm(clock.label) } as CSSProperties}
    >
      <div className="lw-watch-body" aria-hidden="true">
        <p className="lw-watch-label">{clock.label}</p>
        <div className="lw-watch-row">
          <Gauge {...clock.times} size="stroke" decorative />
          <p className="lw-watch-figure" data-long={pieces.length > 1}>
            {reading.figure}
          </p>
          <p className="lw-watch-words">{words}</p>
        </div>
      </div>
      {clock.reason !== undefined && (
        <p className="lw-watch-reason" aria-hidden="true">
          {clock.reason}
        </p>
      )}
    </div>
  );
}
