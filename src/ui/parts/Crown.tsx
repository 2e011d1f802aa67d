import { type CSSProperties, memo, useId } from 'react';
import { unreachable } from '../../base/assert.ts';
import './crown.css';
import type { Surface } from '../../protocol/types.ts';
import type { ToothState } from '../../words/codes.ts';
import { type CrownZone, crownShape, crownZone, sidePaths } from './crown-shapes.ts';
import type { ToothPlace } from './tooth-order.ts';

export interface CrownSurface {
  /** facial, incisal or occlusal, mesial, distal, lingual; others are written under it by the arch. */
  readonly id: Surface;
  readonly state: ToothState;
}

interface CrownProps {
  readonly place: ToothPlace;
  readonly state: ToothState;
  /** How much of the present step is done, 0 to 1; drawn when there are no surfaces. */
  readonly progress?: number | undefined;
  readonly surfaces?: readonly CrownSurface[] | undefined;
}

const PAD = 13;
const BOX = 100;
const RING_SCALE = 1.19;
const FACIAL = 'translate(50 47) scale(0.56) translate(-50 -50)';
const HATCH_PITCH = 13;
const SHORT_FILL = 0.45;

function Textures({ id }: { readonly id: string }) {
  const pattern = {
    width: HATCH_PITCH,
    height: HATCH_PITCH,
    patternUnits: 'userSpaceOnUse',
  } as const;
  return (
    <>
      <pattern id={`${id}-stripe`} {...pattern}>
        <rect className="lw-crown-paper" width={HATCH_PITCH} height={HATCH_PITCH} />
        <rect className="lw-crown-run" y={3} width={HATCH_PITCH} height={HATCH_PITCH * 0.55} />
      </pattern>
      <pattern id={`${id}-hatch`} {...pattern} patternTransform="rotate(45)">
        <rect className="lw-crown-over-paper" width={HATCH_PITCH} height={HATCH_PITCH} />
        <rect className="lw-crown-over" width={HATCH_PITCH * 0.5} height={HATCH_PITCH} />
      </pattern>
    </>
  );
}

function textureOf(state: ToothState, id: string): { fill?: string } {
  if (state === 'running') return { fill: `url(#${id}-stripe)` };
  if (state === 'over' || state === 'short') return { fill: `url(#${id}-hatch)` };
  return {};
}

function fillShare(props: CrownProps): number {
  if (props.state === 'done' || props.state === 'over') return 1;
  if (props.state === 'short') return Math.max(SHORT_FILL, props.progress ?? 0);
  return Math.min(1, Math.max(0, props.progress ?? 0));
}

function PlainFill(props: CrownProps & { readonly id: string }) {
  const height = fillShare(props) * BOX;
  if (height === 0 || props.state === 'skipped' || props.state === 'voided') return null;
  return (
    <rect
      className="lw-crown-fill"
      data-state={props.state}
      x={-PAD}
      y={BOX - height}
      width={BOX + 2 * PAD}
      height={height}
      clipPath={`url(#${props.id}-crown)`}
      {...textureOf(props.state, props.id)}
    />
  );
}

function zoneStates(surfaces: readonly CrownSurface[]): ReadonlyMap<CrownZone, ToothState> {
  const states = new Map<CrownZone, ToothState>();
  for (const surface of surfaces) {
    const zone = crownZone(surface.id);
    if (zone !== undefined) states.set(zone, surface.state);
  }
  return states;
}

function Segments(props: {
  readonly id: string;
  readonly flip: string;
  readonly path: string;
  readonly states: ReadonlyMap<CrownZone, ToothState>;
}) {
  const { id, flip, states } = props;
  const facial = states.get('facial');
  return (
    <>
      <g clipPath={`url(#${id}-crown)`}>
        {(['mesial', 'distal', 'edge'] as const).map((zone) => {
          const state = states.get(zone);
          return state === undefined ? null : (
            <path
              key={zone}
              className="lw-crown-zone"
              data-zone={zone}
              data-state={state}
              d={sidePaths[zone]}
              transform={flip}
              {...textureOf(state, id)}
            />
          );
        })}
      </g>
      {facial !== undefined && (
        <path
          className="lw-crown-zone"
          data-zone="facial"
          data-state={facial}
          d={props.path}
          transform={`${flip} ${FACIAL}`}
          {...textureOf(facial, id)}
        />
      )}
    </>
  );
}

function Ring(props: {
  readonly id: string;
  readonly path: string;
  readonly flip: string;
  readonly state: ToothState;
}) {
  const grown = `translate(50 50) scale(${RING_SCALE}) translate(-50 -50)`;
  return (
    <>
      <path
        className="lw-crown-zone"
        data-zone="lingual"
        data-state={props.state}
        d={props.path}
        transform={`${grown} ${props.flip}`}
        {...textureOf(props.state, props.id)}
      />
      <path className="lw-crown-gap" d={props.path} transform={props.flip} />
    </>
  );
}

/** The shape that says the state without colour, drawn over the crown. */
function StateStroke({ state }: { readonly state: ToothState }) {
  switch (state) {
    case 'done':
      return <path className="lw-crown-check" d="M28,54 L45,71 L74,34" />;
    case 'skipped':
      return <path className="lw-crown-strike" d="M14,88 L86,16" />;
    case 'voided':
      return <path className="lw-crown-strike" d="M20,84 L80,20 M20,20 L80,84" />;
    case 'waiting':
    case 'active':
    case 'running':
    case 'over':
    case 'short':
      return null;
    default:
      return unreachable(state);
  }
}

const surfacesText = (surfaces: readonly CrownSurface[] = []): string =>
  surfaces.map(({ id, state }) => `${id} ${state}`).join();

function isSameCrown(a: CrownProps, b: CrownProps): boolean {
  return (
    a.state === b.state &&
    a.progress === b.progress &&
    a.place.jaw === b.place.jaw &&
    a.place.side === b.place.side &&
    a.place.fromMidline === b.place.fromMidline &&
    a.place.form === b.place.form &&
    surfacesText(a.surfaces) === surfacesText(b.surfaces)
  );
}

/** The outline of one crown with what was done to it. Always beside words, so hidden from readers. */
export const Crown = memo(function Crown(props: CrownProps) {
  const id = useId();
  const { place, surfaces = [] } = props;
  const shape = crownShape(place);
  const mirror = { x: place.side === 'left' ? -1 : 1, y: place.jaw === 'lower' ? -1 : 1 };
  const flip = `translate(50 50) scale(${mirror.x} ${mirror.y}) translate(-50 -50)`;
  const states = zoneStates(surfaces);
  const ring = states.get('lingual');
  const side = BOX + 2 * PAD;
  return (
    <svg
      className="lw-crown"
      data-state={props.state}
      viewBox={`${-PAD} ${-PAD} ${side} ${side}`}
      preserveAspectRatio="none"
      style={{ aspectRatio: String(shape.aspect), '--crown-share': shape.width } as CSSProperties}
      aria-hidden="true"
    >
      <defs>
        <Textures id={id} />
        <clipPath id={`${id}-crown`}>
          <path d={shape.path} transform={flip} />
        </clipPath>
      </defs>
      {ring !== undefined && <Ring id={id} path={shape.path} flip={flip} state={ring} />}
      <path className="lw-crown-body" d={shape.path} transform={flip} />
      {states.size > 0 ? (
        <Segments id={id} flip={flip} path={shape.path} states={states} />
      ) : (
        <PlainFill {...props} id={id} />
      )}
      <path className="lw-crown-line" d={shape.path} transform={flip} />
      {states.size === 0 || props.state === 'skipped' || props.state === 'voided' ? (
        <StateStroke state={props.state} />
      ) : null}
    </svg>
  );
}, isSameCrown);
