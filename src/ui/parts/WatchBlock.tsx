import './watch-block.css';
import { partWords } from '../../words/part-words.ts';
import { figurePieces, readRemaining } from './clock-reading.ts';
import { Gauge } from './Gauge.tsx';
import type { RunningClock } from './WindowList.tsx';

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
    >
      <Gauge {...clock.times} size="stroke" decorative />
      <div className="lw-watch-text" aria-hidden="true">
        <p className="lw-watch-label">{clock.label}</p>
        <p className="lw-watch-words">{words}</p>
        {clock.reason !== undefined && <p className="lw-watch-reason">{clock.reason}</p>}
      </div>
      <p className="lw-watch-figure" data-long={pieces.length > 1} aria-hidden="true">
        {reading.figure}
      </p>
    </div>
  );
}
