import type { CSSProperties } from 'react';
import './chair-clock.css';
import { partWords } from '../../words/part-words.ts';
import { figurePieces, figureWidthEm, readClock } from './clock-reading.ts';
import { Gauge } from './Gauge.tsx';
import type { GaugeTimes } from './gauge-geometry.ts';

interface ChairClockProps extends GaugeTimes {
  /** What is timed, on which tooth: "Gel on 12". Named for screen readers, shown when `showLabel`. */
  readonly label: string;
  readonly showLabel?: boolean | undefined;
  /** Why the figure is an interval: "The tablet slept for 28 s". */
  readonly reason?: string | undefined;
  /** Replaces the clock's own words under the figure. */
  readonly words?: string | undefined;
}

const SHORTEST_FIGURE = '+0:00';

/**
 * The number that is read from two metres, and its gauge. Until the target it shows what is left;
 * past the limit it counts on, larger, with a plus sign.
 */
export function ChairClock(props: ChairClockProps) {
  const reading = readClock(props);
  const words = props.words ?? partWords.clock[reading.words];
  const pieces = figurePieces(reading.figure);
  const wholeEm = Math.max(figureWidthEm(SHORTEST_FIGURE), figureWidthEm(reading.figure));
  const pieceEm = Math.max(figureWidthEm(SHORTEST_FIGURE), ...pieces.map(figureWidthEm));
  const fit = {
    '--figure-em': wholeEm.toFixed(2),
    '--piece-em': pieceEm.toFixed(2),
  } as CSSProperties;
  return (
    <div
      className="lw-clock"
      role="timer"
      aria-label={partWords.clockName({ label: props.label, figure: reading.figure, words })}
      data-phase={reading.phase}
      data-interval={pieces.length > 1}
    >
      <div className="lw-clock-body" style={fit}>
        <div className="lw-clock-gauge">
          <Gauge {...props} size="large" orientation="standing" decorative />
        </div>
        <div className="lw-clock-words-column" aria-hidden="true">
          {props.showLabel === true && <p className="lw-clock-label">{props.label}</p>}
          <p className="lw-clock-figure">
            {pieces.map((piece) => (
              <span key={piece}>{piece}</span>
            ))}
          </p>
          <div className="lw-clock-lines">
            <p className="lw-clock-words">{words}</p>
            {reading.furtherLine !== undefined && (
              <p className="lw-clock-further">{reading.furtherLine}</p>
            )}
          </div>
          {props.reason !== undefined && <p className="lw-clock-reason">{props.reason}</p>}
        </div>
      </div>
    </div>
  );
}
