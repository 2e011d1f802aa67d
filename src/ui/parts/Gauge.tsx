import { memo, useId } from 'react';
import { formatWordsInterval } from '../../words/duration.ts';
import './gauge.css';
import { partWords } from '../../words/part-words.ts';
import { type GaugeGeometry, type GaugeTimes, gaugeGeometry } from './gauge-geometry.ts';

type GaugeSize = 'stroke' | 'small' | 'large';

export interface GaugeProps extends GaugeTimes {
  readonly size: GaugeSize;
  readonly orientation?: 'standing' | 'lying' | undefined;
  /** What the gauge measures. Without it the drawing is named by its figures alone. */
  readonly label?: string | undefined;
  /** True when words beside it already say all of this; it is then hidden from screen readers. */
  readonly decorative?: boolean | undefined;
  /** Length of the drawing in px along its time axis, for lanes; each size has its own default. */
  readonly lengthPx?: number | undefined;
}

const SIZES: Record<GaugeSize, { length: number; breadth: number; marks: boolean }> = {
  stroke: { length: 56, breadth: 20, marks: false },
  small: { length: 112, breadth: 44, marks: true },
  large: { length: 300, breadth: 124, marks: true },
};

function wallPath(g: GaugeGeometry): string {
  const { left, right, top, bottom, radius, lip } = g;
  const flare = g.rimDrawn ? lip : 0;
  return [
    `M${left - flare},${top}`,
    g.rimDrawn ? `Q${left},${top} ${left},${top + lip * 1.6}` : '',
    `L${left},${bottom - radius}`,
    `Q${left},${bottom} ${left + radius},${bottom}`,
    `L${right - radius},${bottom}`,
    `Q${right},${bottom} ${right},${bottom - radius}`,
    g.rimDrawn ? `L${right},${top + lip * 1.6} Q${right},${top} ${right + flare},${top}` : '',
    g.rimDrawn ? '' : `L${right},${top}`,
  ].join(' ');
}

function spillPath(g: GaugeGeometry): string {
  const { breadth, top, spill, left, right, length, lip } = g;
  const edge = 1;
  const crest = top - (top - 2) * spill;
  const run = top + lip + spill * length * 0.16;
  const bulge = Math.min(breadth * 0.2, (top - crest) * 0.9);
  return [
    `M${edge},${run}`,
    `L${edge},${crest + bulge}`,
    `Q${edge},${crest} ${edge + bulge},${crest}`,
    `L${breadth - edge - bulge},${crest}`,
    `Q${breadth - edge},${crest} ${breadth - edge},${crest + bulge}`,
    `L${breadth - edge},${run}`,
    `Q${(breadth - edge + right) / 2},${run + lip * 1.4} ${right},${run}`,
    `L${right},${top} L${left},${top} L${left},${run}`,
    `Q${(left + edge) / 2},${run + lip * 1.4} ${edge},${run} Z`,
  ].join(' ');
}

function Textures(props: { readonly id: string; readonly size: GaugeSize }) {
  const pitch = props.size === 'large' ? 11 : props.size === 'small' ? 7 : 4.5;
  const pattern = { width: pitch, height: pitch, patternUnits: 'userSpaceOnUse' } as const;
  return (
    <>
      <pattern id={`${props.id}-stripe`} {...pattern}>
        <rect className="lw-gauge-ground" width={pitch} height={pitch} />
        <rect className="lw-gauge-ink" y={pitch * 0.25} width={pitch} height={pitch * 0.5} />
      </pattern>
      <pattern id={`${props.id}-dots`} {...pattern}>
        <rect className="lw-gauge-ground" width={pitch} height={pitch} />
        <circle className="lw-gauge-ink" cx={pitch / 4} cy={pitch / 4} r={pitch * 0.17} />
        <circle className="lw-gauge-ink" cx={pitch * 0.75} cy={pitch * 0.75} r={pitch * 0.17} />
      </pattern>
      <pattern id={`${props.id}-hatch`} {...pattern} patternTransform="rotate(45)">
        <rect className="lw-gauge-over-ground" width={pitch} height={pitch} />
        <rect className="lw-gauge-over" width={pitch * 0.52} height={pitch} />
      </pattern>
    </>
  );
}

function FloorNotch(props: { readonly g: GaugeGeometry; readonly id: string }) {
  const { g, id } = props;
  const { floorY } = g;
  if (floorY === undefined) return null;
  const reach = (g.right - g.left) * 0.3;
  const half = reach * 0.62;
  return (
    <path
      className="lw-gauge-floor"
      clipPath={`url(#${id}-vessel)`}
      d={
        `M${g.left - 1},${floorY - half} L${g.left + reach},${floorY} L${g.left - 1},${floorY + half} Z ` +
        `M${g.right + 1},${floorY - half} L${g.right - reach},${floorY} L${g.right + 1},${floorY + half} Z`
      }
    />
  );
}

function TargetLine({ g }: { readonly g: GaugeGeometry }) {
  const { targetY } = g;
  if (targetY === undefined) return null;
  return (
    <>
      <path className="lw-gauge-target-halo" d={`M${g.left},${targetY} H${g.right}`} />
      <path className="lw-gauge-target-line" d={`M0.5,${targetY} H${g.breadth - 0.5}`} />
    </>
  );
}

function Fill(props: { readonly g: GaugeGeometry; readonly id: string }) {
  const { g, id } = props;
  const texture = g.phase === 'short' ? `url(#${id}-stripe)` : undefined;
  const width = g.right - g.left;
  const soft = g.surfaceY - g.bandY;
  return (
    <g clipPath={`url(#${id}-vessel)`}>
      <rect
        className="lw-gauge-fill"
        x={g.left}
        y={g.surfaceY}
        width={width}
        height={g.bottom - g.surfaceY}
        {...(texture === undefined ? {} : { fill: texture })}
      />
      {soft > 0.1 && (
        <rect x={g.left} y={g.bandY} width={width} height={soft} fill={`url(#${id}-dots)`} />
      )}
      {soft > 0.1 && (
        <path className="lw-gauge-band-edge" d={`M${g.left},${g.bandY} H${g.right}`} />
      )}
      {g.surfaceY < g.bottom - 0.5 && (
        <path className="lw-gauge-surface" d={`M${g.left},${g.surfaceY} H${g.right}`} />
      )}
    </g>
  );
}

/** The name that a screen reader says: label, elapsed time and phase. */
export function gaugeName(times: GaugeTimes, phase: string, label?: string): string {
  const elapsed = formatWordsInterval({
    loMs: Math.max(0, times.elapsedLoMs),
    hiMs: Math.max(0, times.elapsedHiMs),
  });
  return label === undefined
    ? partWords.gaugeName({ elapsed, phase })
    : partWords.gaugeNameOf({ label, elapsed, phase });
}

interface DrawingProps {
  readonly g: GaugeGeometry;
  readonly size: GaugeSize;
  readonly kind: GaugeTimes['kind'];
  readonly orientation: 'standing' | 'lying';
  /** Undefined when words beside it say all of this. */
  readonly name: string | undefined;
}

function isSameDrawing(a: DrawingProps, b: DrawingProps): boolean {
  const keys = Object.keys(a.g) as (keyof GaugeGeometry)[];
  return (
    a.size === b.size &&
    a.kind === b.kind &&
    a.orientation === b.orientation &&
    a.name === b.name &&
    keys.every((key) => a.g[key] === b.g[key])
  );
}

/** The lines themselves; with many clocks most of them look as they did a moment ago. */
const Drawing = memo(function Drawing(props: DrawingProps) {
  const id = useId();
  const { g, size, orientation, name } = props;
  const lying = orientation === 'lying';
  const [width, height] = lying ? [g.length, g.breadth] : [g.breadth, g.length];
  const walls = wallPath(g);
  return (
    <svg
      className="lw-gauge"
      data-size={size}
      data-phase={g.phase}
      data-kind={props.kind}
      data-orientation={orientation}
      viewBox={`0 0 ${width} ${height}`}
      width={width}
      height={height}
      role="img"
      aria-label={name}
      aria-hidden={name === undefined}
    >
      <defs>
        <Textures id={id} size={size} />
        <clipPath id={`${id}-vessel`}>
          <path d={`${walls} Z`} />
        </clipPath>
      </defs>
      <g {...(lying ? { transform: `matrix(0 1 -1 0 ${g.length} 0)` } : {})}>
        <path className="lw-gauge-glass" d={`${walls} Z`} />
        <Fill g={g} id={id} />
        {g.spill > 0 && (
          <path className="lw-gauge-spill" d={spillPath(g)} fill={`url(#${id}-hatch)`} />
        )}
        <FloorNotch g={g} id={id} />
        <path className="lw-gauge-wall" d={walls} />
        <TargetLine g={g} />
      </g>
    </svg>
  );
}, isSameDrawing);

/**
 * A standing vessel that fills from below: floor notch, target line, rim. What lies between the
 * two possible elapsed times is a dotted band, and what passes the rim spills over, hatched.
 */
export function Gauge(props: GaugeProps) {
  const { size, orientation = 'standing' } = props;
  const base = SIZES[size];
  const g = gaugeGeometry(props, { ...base, length: props.lengthPx ?? base.length });
  const name =
    props.decorative === true
      ? undefined
      : gaugeName(props, partWords.gaugePhase[g.phase], props.label);
  return <Drawing g={g} size={size} kind={props.kind} orientation={orientation} name={name} />;
}
