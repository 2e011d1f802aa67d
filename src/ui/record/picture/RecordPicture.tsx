import type { ReactNode } from 'react';
import {
  type ChangeMark,
  type DoneLane,
  type DoneMark,
  drawnToMs,
  type PlannedWindow,
  type RecordTimeline,
  type WindowGauge,
} from '../../../export/record-timeline.ts';
import { barWords } from '../../../words/plan-words.ts';
import { gaugeWords, markWords, timelineWords } from '../../../words/record-timeline-words.ts';
import type { CaseNaming } from '../../../words/step-texts.ts';
import { portionTitle } from '../../../words/subject-words.ts';
import {
  type PictureScale,
  percent,
  placeOf,
  TimeMarks,
  TimeTextures,
} from '../../parts/TimePicture.tsx';
import {
  doneToMs,
  idleCuts,
  inDrawingOrder,
  linesOf,
  type PlacedGauge,
  placedGauges,
  plannedLines,
} from './record-timeline-model.ts';
import './record-picture.css';

/** Heights of the drawing, in px. */
const HEAD = 20;
const DONE = 14;
const PLANNED = 9;
const GAP = 3;
const GAUGE = 10;
/** Windows of many subjects share a row of at most this height. */
const WINDOWS_MAX = 60;
/** A gap of unknown length has no width of its own: a stroke that is seen. */
const OPEN_GAP_PX = 3;
const PLANNED_WINDOW = 5;
const PLANNED_WINDOWS_MAX = 24;

interface Drawn {
  readonly scale: PictureScale;
  readonly scene: CaseNaming;
}

function Row(o: {
  readonly name: string;
  readonly height: number;
  readonly drawn: Drawn;
  readonly gaps: RecordTimeline['gaps'];
  readonly children: ReactNode;
}) {
  const { scale } = o.drawn;
  return (
    <div className="record-row">
      <span className="record-row-name">{o.name}</span>
      <svg className="record-row-track" style={{ height: `${o.height}px` }} aria-hidden="true">
        <TimeMarks scale={scale} />
        {o.gaps.map(({ fromMs, toMs, isOpenEnded }) => (
          <rect
            key={fromMs}
            className="record-gap"
            x={percent(placeOf(fromMs, scale))}
            width={
              isOpenEnded ? OPEN_GAP_PX : percent(placeOf(toMs, scale) - placeOf(fromMs, scale))
            }
            height="100%"
          >
            <title>{isOpenEnded ? timelineWords.gapOpen : timelineWords.gap}</title>
          </rect>
        ))}
        {o.children}
        <Cuts scale={scale} height={o.height} />
      </svg>
    </div>
  );
}

/** The two strokes of a broken axis, over all that runs through it. */
function Cuts({ scale, height }: { readonly scale: PictureScale; readonly height: number }) {
  return scale.cuts?.map(({ fromMs, toMs }) => {
    const middle = (placeOf(fromMs, scale) + placeOf(toMs, scale)) / 2;
    return (
      <svg key={fromMs} x={percent(middle)} overflow="visible" aria-hidden="true">
        <CutShape height={height} />
      </svg>
    );
  });
}

/** A cut of the axis, also in the key. */
export function CutShape({ height }: { readonly height: number }) {
  return (
    <g className="record-cut">
      <path className="record-cut-ground" d={`M-1,0 H7 L1,${height} H-7 Z`} />
      <path d={`M-1,0 L-7,${height} M7,0 L1,${height}`} />
    </g>
  );
}

/** Windows as planned, in outline below what was done. */
function PlannedWindows(o: {
  readonly windows: readonly PlannedWindow[];
  readonly top: number;
  readonly pitch: number;
  readonly drawn: Drawn;
}) {
  const { scale } = o.drawn;
  return plannedLines(o.windows).map(({ window, line }) => (
    <rect
      key={window.id}
      className="record-planned"
      x={percent(placeOf(window.fromMs, scale))}
      y={o.top + line * o.pitch}
      width={percent(placeOf(window.toMs, scale) - placeOf(window.fromMs, scale))}
      height={Math.max(1, o.pitch - 1)}
    >
      <title>{timelineWords.key.planned}</title>
    </rect>
  ));
}

/** How many px high the planned windows of a row are, and each of their lines. */
function plannedHeight(windows: readonly PlannedWindow[]) {
  const lines = plannedLines(windows).reduce((most, { line }) => Math.max(most, line + 1), 0);
  const pitch = Math.min(PLANNED_WINDOW, PLANNED_WINDOWS_MAX / Math.max(1, lines));
  return { pitch, height: Math.ceil(lines * pitch) };
}

/** One thing that was done: a bar, or a stroke where a single press is all that is known. */
function Mark({ mark, drawn }: { readonly mark: DoneMark; readonly drawn: Drawn }) {
  const { scale, scene } = drawn;
  const x = placeOf(mark.from.loMs, scale);
  const title = <title>{markWords(mark, scene)}</title>;
  const look = {
    'data-broken': mark.isBroken,
    'data-perhaps': mark.isPerhaps,
    'data-voided': mark.isVoided,
  };
  if (mark.kind === 'moment') {
    // Known only as an interval, it ends where it was at the latest.
    const last = placeOf(drawnToMs(mark.from), scale);
    return (
      <g className="record-moment-mark" {...look}>
        {title}
        {last > x && (
          <line
            className="record-within"
            x1={percent(x)}
            x2={percent(last)}
            y1={DONE / 2}
            y2={DONE / 2}
          />
        )}
        <line x1={percent(last)} x2={percent(last)} y1={0} y2={DONE} />
      </g>
    );
  }
  return (
    <rect
      className="record-bar"
      {...look}
      x={percent(x)}
      y={mark.isBroken ? 0 : 2}
      width={percent(placeOf(doneToMs(mark), scale) - x)}
      height={mark.isBroken ? DONE : DONE - 4}
    >
      {title}
    </rect>
  );
}

function Vessel(o: {
  readonly placed: PlacedGauge;
  readonly top: number;
  readonly height: number;
  readonly drawn: Drawn;
}) {
  const { placed, top, height, drawn } = o;
  const { gauge, rimMs, filledMs, isCut } = placed;
  const inset = height > 7 ? 2 : 1;
  const at = (ms: number): number => placeOf(ms, drawn.scale);
  const from = at(gauge.fromMs);
  const rim = at(rimMs);
  const isOver = gauge.maxMs !== null && filledMs > rimMs;
  const filled = Math.min(at(filledMs), rim);
  const notch = gauge.minMs === null ? null : at(gauge.fromMs + gauge.minMs);
  return (
    <g className="record-vessel" data-state={gauge.state}>
      <title>{gaugeWords(gauge, drawn.scene)}</title>
      <rect
        className="record-vessel-fill"
        x={percent(from)}
        y={top + inset}
        width={percent(Math.max(0, filled - from))}
        height={height - 2 * inset}
      />
      <rect
        className="record-vessel-wall"
        x={percent(from)}
        y={top + 1}
        width={percent(Math.max(0, rim - from))}
        height={height - 2}
      />
      {gauge.maxMs !== null && !isCut && <Stroke at={rim} y={top - 1} height={height + 2} />}
      {notch !== null && notch <= 100 && <Stroke at={notch} y={top + 1} height={height / 2} />}
      {isOver && (
        <rect
          className="record-vessel-spill"
          x={percent(rim)}
          y={top - 1}
          width={percent(at(filledMs) - rim)}
          height={height + 2}
        />
      )}
    </g>
  );
}

function Stroke(o: { readonly at: number; readonly y: number; readonly height: number }) {
  const { at, y, height } = o;
  return (
    <line className="record-vessel-rim" x1={percent(at)} x2={percent(at)} y1={y} y2={y + height} />
  );
}

function laneName(lane: DoneLane, { spec }: CaseNaming): string {
  if (lane.kind === 'light') return timelineWords.light;
  if (lane.kind === 'mix') return portionTitle(lane.id);
  const people = spec.people.filter((p) => p.role === lane.id).map((p) => p.label);
  return (
    timelineWords.people(people) ||
    (lane.id === 'dentist' ? timelineWords.roles.dentist : timelineWords.roles.assistant)
  );
}

function LaneRow(o: {
  readonly lane: DoneLane;
  readonly drawn: Drawn;
  readonly picture: RecordTimeline;
}) {
  const { lane, drawn, picture } = o;
  const placed = placedGauges(lane.gauges, picture.endMs);
  const lines = linesOf(placed);
  const gaugesAt = DONE + GAP;
  const windowsAt = gaugesAt + lines * (GAUGE + GAP);
  const { pitch, height } = plannedHeight(lane.plannedWindows);
  const plannedAt = windowsAt + (height === 0 ? 0 : height + GAP);
  const { scale, scene } = drawn;
  return (
    <Row
      name={laneName(lane, scene)}
      height={plannedAt + PLANNED + 2}
      drawn={drawn}
      gaps={picture.gaps}
    >
      {inDrawingOrder(lane.marks).map((mark) => (
        <Mark key={mark.id} mark={mark} drawn={drawn} />
      ))}
      {placed.map((each) => (
        <Vessel
          key={each.gauge.id}
          placed={each}
          top={gaugesAt + each.line * (GAUGE + GAP)}
          height={GAUGE}
          drawn={drawn}
        />
      ))}
      <PlannedWindows windows={lane.plannedWindows} top={windowsAt} pitch={pitch} drawn={drawn} />
      {lane.planned.map((bar) => (
        <rect
          key={bar.id}
          className="record-planned"
          x={percent(placeOf(bar.startMs, scale))}
          y={plannedAt}
          width={percent(placeOf(bar.endMs, scale) - placeOf(bar.startMs, scale))}
          height={PLANNED}
        >
          <title>{timelineWords.plannedBar(barWords(bar, scene))}</title>
        </rect>
      ))}
    </Row>
  );
}

function WindowRow(o: {
  readonly gauges: readonly WindowGauge[];
  readonly drawn: Drawn;
  readonly picture: RecordTimeline;
}) {
  const placed = placedGauges(o.gauges, o.picture.endMs);
  const pitch = Math.min(GAUGE + GAP, WINDOWS_MAX / Math.max(1, linesOf(placed)));
  const planned = o.picture.plannedWindows[o.gauges[0]?.window ?? ''] ?? [];
  const outline = plannedHeight(planned);
  const plannedAt = linesOf(placed) * pitch + 2;
  const height = Math.max(18, plannedAt + outline.height + 2);
  return (
    <Row name={o.gauges[0]?.title ?? ''} height={height} drawn={o.drawn} gaps={o.picture.gaps}>
      <PlannedWindows windows={planned} top={plannedAt} pitch={outline.pitch} drawn={o.drawn} />
      {placed.map((each) => (
        <Vessel
          key={each.gauge.id}
          placed={each}
          top={2 + each.line * pitch}
          height={Math.max(3, pitch - GAP)}
          drawn={o.drawn}
        />
      ))}
    </Row>
  );
}

const CHANGE_SHAPES: Readonly<Record<ChangeMark['kind'], string>> = {
  'way-back': 'M0,1 L6,7 L0,13 L-6,7 Z',
  correction: 'M0,2 L6,12 L-6,12 Z',
  plan: 'M-5,2 H5 V12 H-5 Z',
  emergency: 'M-2,1 H2 V5 H6 V9 H2 V13 H-2 V9 H-6 V5 H-2 Z',
  anaesthesia: 'M-6,5 H6 V9 H-6 Z',
};

/** The shape of one kind of change, also in the key. */
export function ChangeShape({ kind }: { readonly kind: ChangeMark['kind'] }) {
  return <path className="record-change" data-kind={kind} d={CHANGE_SHAPES[kind]} />;
}

/** The case on its axis: lanes, windows, changes. What it says stands in the tables as well. */
export function RecordPicture(o: { readonly picture: RecordTimeline; readonly scene: CaseNaming }) {
  const { picture, scene } = o;
  const scale = { startMs: 0, endMs: Math.max(1, picture.endMs), cuts: idleCuts(picture) };
  const drawn = { scale, scene };
  return (
    <div className="record-picture" role="img" aria-label={timelineWords.picture}>
      <div className="record-row">
        <span className="record-row-name" />
        <svg className="record-row-track" style={{ height: `${HEAD}px` }} aria-hidden="true">
          <TimeTextures />
          <TimeMarks scale={scale} labelsAtY={HEAD - 5} />
        </svg>
      </div>
      {picture.lanes.map((lane) => (
        <LaneRow key={lane.id} lane={lane} drawn={drawn} picture={picture} />
      ))}
      {picture.windows.map((gauges) => (
        <WindowRow key={gauges[0]?.window} gauges={gauges} drawn={drawn} picture={picture} />
      ))}
      {picture.changes.length > 0 && (
        <Row name={timelineWords.changes} height={16} drawn={drawn} gaps={picture.gaps}>
          {picture.changes.map(({ id, kind, atMs }) => (
            <svg key={id} x={percent(placeOf(atMs, scale))} overflow="visible" aria-hidden="true">
              <ChangeShape kind={kind} />
              <title>{timelineWords.change[kind]}</title>
            </svg>
          ))}
        </Row>
      )}
    </div>
  );
}
