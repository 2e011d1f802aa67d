import { useMemo } from 'react';
import type { BandRisk } from '../../plan/risk.ts';
import type { Band, Bar, Lane, Timeline } from '../../plan/timeline.ts';
import type { CaseNaming } from '../../words/offer-words.ts';
import { barWords, chanceWords, laneWords, planWords, slackWords } from '../../words/plan-words.ts';
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

function BarMark(o: { readonly bar: Bar; readonly scale: PictureScale; readonly title: string }) {
  const x = placeOf(o.bar.startMs, o.scale);
  const width = placeOf(o.bar.endMs, o.scale) - x;
  return (
    <rect
      className="plan-bar"
      data-part={o.bar.part}
      data-tight={o.bar.slackMs <= 0}
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

/** Lanes of the people, the light and each mix, on one axis of minutes. */
export function PlanLanes(o: {
  readonly timeline: Timeline;
  readonly naming: CaseNaming;
  readonly scale: PictureScale;
}) {
  const rows = useMemo(() => lanesOf(o.timeline), [o.timeline]);
  const height = TOP + rows.length * (LANE + GAP);
  return (
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
              <BarMark key={bar.id} bar={bar} scale={o.scale} title={barWords(bar, o.naming)} />
            ))}
          </g>
        ))}
      </svg>
    </div>
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
