import { useMemo, useState } from 'react';
import type { BandRisk } from '../../plan/risk.ts';
import type { Band, Bar, Lane, Timeline } from '../../plan/timeline.ts';
import {
  barLineWords,
  barWords,
  chanceWords,
  laneWords,
  planWords,
  slackWords,
} from '../../words/plan-words.ts';
import type { CaseNaming } from '../../words/step-texts.ts';
import { Button } from '../parts/Button.tsx';
import {
  type PictureScale,
  percent,
  placeOf,
  TimeMarks,
  TimeTextures,
} from '../parts/TimePicture.tsx';
import './plan.css';

const LANE = 30;
const GAP = 12;
const TOP = 22;

function BarMark(o: {
  readonly bar: Bar;
  readonly scale: PictureScale;
  readonly title: string;
  readonly isPicked: boolean;
  readonly onPick: () => void;
}) {
  const x = placeOf(o.bar.startMs, o.scale);
  const width = placeOf(o.bar.endMs, o.scale) - x;
  return (
    <rect
      className="plan-bar"
      data-part={o.bar.part}
      data-tight={o.bar.slackMs <= 0}
      data-picked={o.isPicked}
      onPointerDown={o.onPick}
      x={percent(x)}
      y={3}
      width={percent(width)}
      height={LANE - 6}
    >
      <title>{o.title}</title>
    </rect>
  );
}

interface Row {
  readonly lane: Lane;
  readonly bars: readonly Bar[];
}

function lanesOf(timeline: Timeline): Row[] {
  const bars = new Map(timeline.bars.map((b) => [b.id, b]));
  return timeline.lanes.map((lane) => ({
    lane,
    bars: lane.bars.flatMap((id) => bars.get(id) ?? []),
  }));
}

/** The bar that is told, in the order of the work, and how to go to another. */
function usePicked(timeline: Timeline) {
  const [id, setId] = useState<string | null>(null);
  const inTime = useMemo(
    () => timeline.bars.toSorted((a, b) => a.startMs - b.startMs || a.endMs - b.endMs),
    [timeline],
  );
  const at = inTime.findIndex((bar) => bar.id === id);
  const go = (by: number): void => {
    const next = at < 0 ? 0 : Math.min(inTime.length - 1, Math.max(0, at + by));
    setId(inTime[next]?.id ?? null);
  };
  return { bar: inTime[at] ?? null, setId, go };
}

/** One line about the picked bar, under the picture; buttons reach every bar without touching it. */
function PickedLine(o: {
  readonly timeline: Timeline;
  readonly naming: CaseNaming;
  readonly bar: Bar | null;
  readonly go: (by: number) => void;
}) {
  const lane = o.timeline.lanes.find(
    ({ kind, bars }) => kind !== 'mix' && o.bar !== null && bars.includes(o.bar.id),
  );
  return (
    <div className="plan-picked">
      <Button rank="quiet" name={planWords.nameOfEarlierBar} onPress={() => o.go(-1)}>
        {planWords.earlierBar}
      </Button>
      <Button rank="quiet" name={planWords.nameOfLaterBar} onPress={() => o.go(1)}>
        {planWords.laterBar}
      </Button>
      <p aria-live="polite">
        {o.bar === null ? planWords.pictureHint : barLineWords(o.bar, lane, o.naming)}
      </p>
    </div>
  );
}

/** Lanes of the people, the light and each mix, on one axis of minutes; a touched bar is told. */
export function PlanLanes(o: {
  readonly timeline: Timeline;
  readonly naming: CaseNaming;
  readonly scale: PictureScale;
}) {
  const rows = useMemo(() => lanesOf(o.timeline), [o.timeline]);
  const { bar: picked, setId, go } = usePicked(o.timeline);
  const height = TOP + rows.length * (LANE + GAP);
  return (
    <>
      <div className="plan-grid">
        <div className="plan-names" aria-hidden="true">
          {rows.map(({ lane }) => (
            <span key={lane.id}>{laneWords(lane, o.naming)}</span>
          ))}
        </div>
        <svg
          className="plan-lanes"
          style={{ height: `${height}px` }}
          role="img"
          aria-label={planWords.lanes}
        >
          <TimeTextures />
          <TimeMarks scale={o.scale} labelsAtY={TOP - 9} />
          {rows.map(({ lane, bars }, i) => (
            <g key={lane.id} transform={`translate(0 ${TOP + i * (LANE + GAP)})`}>
              <line className="plan-lane-line" x1={0} x2="100%" y1={LANE} y2={LANE} />
              {bars.map((bar) => (
                <BarMark
                  key={bar.id}
                  bar={bar}
                  scale={o.scale}
                  title={barWords(bar, o.naming)}
                  isPicked={bar.id === picked?.id}
                  onPick={() => setId(bar.id)}
                />
              ))}
            </g>
          ))}
        </svg>
      </div>
      <PickedLine timeline={o.timeline} naming={o.naming} bar={picked} go={go} />
    </>
  );
}

/** The tightest band of each window or dwell, in the order of the work. */
export function tightestBands(timeline: Timeline): Band[] {
  const tight = new Map<string, Band>();
  for (const band of timeline.bands) {
    const known = tight.get(band.of);
    if (!known || band.slackMs < known.slackMs) tight.set(band.of, band);
  }
  return [...tight.values()].sort((a, b) => a.fromMs - b.fromMs);
}

interface BandRowProps {
  readonly band: Band;
  readonly risk: BandRisk | undefined;
  /** How often the plan was simulated for that risk. */
  readonly runs: number;
  readonly title: string;
  readonly isOpen: boolean;
  readonly onToggle: () => void;
}

/** A window laid on its side: filled to its planned close, open where there is room, spilled over. */
export function BandRow(o: BandRowProps) {
  const { band } = o;
  const share = Math.min(1, Math.max(0, (band.toMs - band.fromMs) / Math.max(1, band.maxMs)));
  const isOver = band.slackMs < 0;
  return (
    <button
      type="button"
      className="plan-band"
      aria-expanded={o.isOpen}
      data-over={isOver}
      onClick={o.onToggle}
    >
      <span className="plan-band-title">{o.title}</span>
      <svg className="plan-band-vessel" viewBox="0 0 240 26" aria-hidden="true">
        <TimeTextures />
        <path className="plan-vessel-wall" d="M4,3 H206 q8,0 10,-2 M4,23 H206 q8,0 10,2 M4,3 V23" />
        <rect className="plan-vessel-fill" x={6} y={6} width={200 * share} height={14} />
        {isOver && <rect className="plan-vessel-spill" x={210} y={1} width={28} height={24} />}
      </svg>
      <span className="plan-band-slack">{slackWords(band.slackMs)}</span>
      <span className="plan-band-risk">
        {o.risk && chanceWords({ share: o.risk.pBroken, runs: o.runs })}
      </span>
    </button>
  );
}
