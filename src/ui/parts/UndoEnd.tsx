import { formatSeconds } from '../../words/duration.ts';
import './press-bar.css';
import { partWords } from '../../words/part-words.ts';

interface UndoEndProps {
  /** What is taken back: "Gel on 12". Undefined: nothing can be taken back, the place stays. */
  readonly what?: string | undefined;
  readonly remainingMs: number;
  /** Length of the whole undo time, 10 s. */
  readonly spanMs: number;
  readonly onUndo: () => void;
}

const RADIUS = 20;
const CIRCUMFERENCE = 2 * Math.PI * RADIUS;

function Ring(props: { readonly share: number; readonly figure: string }) {
  return (
    <svg className="lw-undo-ring" viewBox="0 0 48 48" aria-hidden="true">
      <circle className="lw-undo-track" cx={24} cy={24} r={RADIUS} />
      <circle
        className="lw-undo-left"
        cx={24}
        cy={24}
        r={RADIUS}
        strokeDasharray={`${(CIRCUMFERENCE * props.share).toFixed(1)} ${CIRCUMFERENCE.toFixed(1)}`}
        transform="rotate(-90 24 24)"
      />
      <text className="lw-undo-figure" x={24} y={24} dominantBaseline="central" textAnchor="middle">
        {props.figure}
      </text>
    </svg>
  );
}

/** The end of the bar that takes the last press back, always in the same place. */
export function UndoEnd(props: UndoEndProps) {
  const { what, remainingMs, spanMs } = props;
  if (what === undefined || remainingMs <= 0) {
    return (
      <button type="button" className="lw-undo" data-empty="true" aria-disabled="true">
        <span className="lw-undo-words">{partWords.undoNothing}</span>
      </button>
    );
  }
  const seconds = formatSeconds(remainingMs, 'up');
  return (
    <button
      type="button"
      className="lw-undo"
      data-empty="false"
      aria-label={partWords.undoName({ what, seconds })}
      onClick={props.onUndo}
    >
      <Ring
        share={Math.min(1, remainingMs / spanMs)}
        figure={String(Math.ceil(remainingMs / 1000))}
      />
      <span className="lw-undo-text">
        <span className="lw-undo-words">{partWords.undo}</span>
        <span className="lw-undo-what">{what}</span>
      </span>
    </button>
  );
}
