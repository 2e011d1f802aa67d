import { Gauge } from './Gauge.tsx';
import type { GaugeTimes } from './gauge-geometry.ts';
import './window-list.css';
import { partWords } from '../../words/part-words.ts';
import { figurePieces, readRemaining } from './clock-reading.ts';

/** How loud a clock is: calm, its limit is near, or its limit is passed. */
type ClockLevel = 'calm' | 'closing' | 'broken';

export interface RunningClock {
  readonly id: string;
  /** What it protects: "light shield 12", "working time mix 1". */
  readonly label: string;
  readonly times: GaugeTimes;
  readonly level: ClockLevel;
  /** Replaces the words after the figure, such as "left in window". */
  readonly words?: string | undefined;
  /** Why the figure is an interval. */
  readonly reason?: string | undefined;
}

interface WindowListProps {
  readonly clocks: readonly RunningClock[];
  readonly onSelect?: ((id: string) => void) | undefined;
}

function Row({ clock }: { readonly clock: RunningClock }) {
  const reading = readRemaining(clock.times);
  const words = clock.words ?? partWords.clock[reading.words];
  const long = figurePieces(reading.figure).length > 1;
  return (
    <>
      <Gauge {...clock.times} size="stroke" decorative />
      <span className="lw-window-text">
        <span className="lw-window-label">{clock.label}</span>
        <span className="lw-window-words">{words}</span>
        {clock.reason !== undefined && <span className="lw-window-reason">{clock.reason}</span>}
      </span>
      <span className="lw-window-figure" data-long={long}>
        {reading.figure}
      </span>
    </>
  );
}

/** Every running clock in its own row, each with what it protects. */
export function WindowList({ clocks, onSelect }: WindowListProps) {
  if (clocks.length === 0) return <p className="lw-window-none">{partWords.noClocks}</p>;
  return (
    <ul className="lw-windows" aria-label={partWords.clocks}>
      {clocks.map((clock) => (
        <li key={clock.id} className="lw-window" data-level={clock.level}>
          {onSelect === undefined ? (
            <div className="lw-window-body">
              <Row clock={clock} />
            </div>
          ) : (
            <button type="button" className="lw-window-body" onClick={() => onSelect(clock.id)}>
              <Row clock={clock} />
            </button>
          )}
        </li>
      ))}
    </ul>
  );
}
