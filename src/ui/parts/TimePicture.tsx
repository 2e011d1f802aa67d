import { MS_PER_MINUTE } from '../../base/units.ts';
import { formatWords } from '../../words/duration.ts';
import './time-picture.css';

/**
 * Parts of pictures that lie on an axis of minutes: the plan and the record. Places are percentages
 * of the width, so that words and textures keep their shape however wide the picture is.
 */

export interface PictureScale {
  readonly startMs: number;
  readonly endMs: number;
  /** Stretches drawn short, in order of time, none within another. */
  readonly cuts?: readonly Stretch[];
}

export interface Stretch {
  readonly fromMs: number;
  readonly toMs: number;
}

/** More marks than this stand too close to be read. */
const MARKS_MAX = 12;
const STEPS_MIN = [1, 2, 5, 10, 15, 20, 30, 60, 120, 240, 480, 1440] as const;

/** What a cut stretch takes of the width, as a share of all that is not cut. */
const CUT_SHARE = 0.04;

/** Further to the right a label would stand in the one before it. */
const LAST_LABEL_PLACE = 93;

/** Where an instant lies, in percent of the width. */
export function placeOf(atMs: number, scale: PictureScale): number {
  const { startMs, endMs, cuts = [] } = scale;
  const cutMs = cuts.reduce((sum, cut) => sum + cut.toMs - cut.fromMs, 0);
  const shownMs = (endMs - startMs - cutMs) * CUT_SHARE;
  const drawnMs = (ms: number): number =>
    cuts.reduce((left, { fromMs, toMs }) => {
      const passed = Math.min(1, Math.max(0, (ms - fromMs) / (toMs - fromMs)));
      return left - passed * (toMs - fromMs - shownMs);
    }, ms - startMs);
  const share = drawnMs(atMs) / Math.max(1, drawnMs(endMs));
  return Math.round(share * 100_000) / 1000;
}

export const percent = (value: number): string => `${value}%`;

/** Instants of the marks of an axis; where it is cut there are none. */
export function marksOf(scale: PictureScale): number[] {
  const { cuts = [] } = scale;
  const cutMs = cuts.reduce((sum, cut) => sum + cut.toMs - cut.fromMs, 0);
  const minutes = (scale.endMs - scale.startMs - cutMs) / MS_PER_MINUTE;
  const everyMin = STEPS_MIN.find((step) => minutes / step <= MARKS_MAX) ?? Math.ceil(minutes / 10);
  const everyMs = everyMin * MS_PER_MINUTE;
  const count = Math.floor((scale.endMs - scale.startMs) / everyMs) + 1;
  return Array.from({ length: count }, (_, i) => scale.startMs + i * everyMs).filter((atMs) =>
    cuts.every(({ fromMs, toMs }) => atMs <= fromMs || atMs >= toMs),
  );
}

/** The least that two labels of marks stand apart, in percent. */
const LABELS_APART = 7;

/** Marks with room for their label: beside a cut two of them may stand close together. */
function labelled(scale: PictureScale): ReadonlySet<number> {
  let lastAt = Number.NEGATIVE_INFINITY;
  return new Set(
    marksOf(scale).filter((atMs) => {
      const at = placeOf(atMs, scale);
      if (at > LAST_LABEL_PLACE || at - lastAt < LABELS_APART) return false;
      lastAt = at;
      return true;
    }),
  );
}

/** Thin lines at the marks, and their minutes above when `labelsAtY` says where. */
export function TimeMarks(o: { readonly scale: PictureScale; readonly labelsAtY?: number }) {
  const { scale, labelsAtY } = o;
  const labels = labelled(scale);
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
          {labelsAtY !== undefined && labels.has(atMs) && (
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
