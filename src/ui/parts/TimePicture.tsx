import { formatWords } from '../format/duration.ts';
import './time-picture.css';

/**
 * Parts of pictures that lie on an axis of minutes: the plan and the record. Places are percentages
 * of the width, so that words and textures keep their shape however wide the picture is.
 */

export interface PictureScale {
  readonly startMs: number;
  readonly endMs: number;
}

const MS_PER_MINUTE = 60_000;
/** More marks than this stand too close to be read. */
const MARKS_MAX = 12;
const STEPS_MIN = [1, 2, 5, 10, 15, 20, 30, 60, 120, 240, 480, 1440] as const;

/** Where an instant lies, in percent of the width. */
export function placeOf(atMs: number, scale: PictureScale): number {
  const share = (atMs - scale.startMs) / Math.max(1, scale.endMs - scale.startMs);
  return Math.round(share * 100_000) / 1000;
}

export const percent = (value: number): string => `${value}%`;

/** Instants of the marks of an axis. */
export function marksOf(scale: PictureScale): number[] {
  const minutes = (scale.endMs - scale.startMs) / MS_PER_MINUTE;
  const everyMin = STEPS_MIN.find((step) => minutes / step <= MARKS_MAX) ?? Math.ceil(minutes / 10);
  const everyMs = everyMin * MS_PER_MINUTE;
  const count = Math.floor((scale.endMs - scale.startMs) / everyMs) + 1;
  return Array.from({ length: count }, (_, i) => scale.startMs + i * everyMs);
}

/** Further to the right a label would stand in the one before it. */
const LAST_LABEL_PLACE = 93;

/** Thin lines at the marks, and their minutes above when `labelsAtY` says where. */
export function TimeMarks(o: { readonly scale: PictureScale; readonly labelsAtY?: number }) {
  const { scale, labelsAtY } = o;
  return (
    <g className="lw-time-marks">
      {marksOf(scale).map((atMs) => (
        <g key={atMs}>
          <line
            x1={percent(placeOf(atMs, scale))}
            x2={percent(placeOf(atMs, scale))}
            y1={labelsAtY === undefined ? 0 : labelsAtY + 3}
            y2="100%"
          />
          {labelsAtY !== undefined && placeOf(atMs, scale) <= LAST_LABEL_PLACE && (
            <text x={percent(placeOf(atMs, scale))} y={labelsAtY}>
              {formatWords(atMs - scale.startMs)}
            </text>
          )}
        </g>
      ))}
    </g>
  );
}

/** What is hatched and what is dotted, once for a page. */
export function TimeTextures() {
  return (
    <defs>
      <pattern id="time-hatch" width="6" height="6" patternUnits="userSpaceOnUse">
        <path d="M0,6 L6,0" className="lw-time-hatch" />
      </pattern>
      <pattern id="time-over" width="5" height="5" patternUnits="userSpaceOnUse">
        <rect className="lw-time-ground" width="5" height="5" />
        <path d="M-1,1 L1,-1 M0,5 L5,0 M4,6 L6,4" className="lw-time-over" />
      </pattern>
      <pattern id="time-dots" width="6" height="6" patternUnits="userSpaceOnUse">
        <circle cx="3" cy="3" r="1.2" className="lw-time-dot" />
      </pattern>
    </defs>
  );
}
