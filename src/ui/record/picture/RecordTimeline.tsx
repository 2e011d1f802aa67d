import { useEffect, useMemo, useState } from 'react';
import type { RecordSource } from '../../../export/export-source.ts';
import { recordFrame } from '../../../export/record-frame.ts';
import {
  type Compared,
  drawnToMs,
  type RecordTimeline as Picture,
  recordTimeline,
} from '../../../export/record-timeline.ts';
import type { RecordFacts } from '../../../export/record-types.ts';
import type { Timeline } from '../../../plan/timeline.ts';
import {
  cutWords,
  laterWords,
  spanWords,
  timelineWords,
  tookWords,
} from '../../../words/record-timeline-words.ts';
import { Disclosure } from '../../parts/Facts.tsx';
import { Section } from '../../parts/Page.tsx';
import { Table } from '../../parts/Table.tsx';
import { usePlanner } from '../../shared/session-context.ts';
import { ChangeShape, CutShape, RecordPicture } from './RecordPicture.tsx';
import { idleCuts } from './record-timeline-model.ts';

/** `undefined` while the planning thread works, null when there is no plan to compare with. */
type Planned = Timeline | null | undefined;

/** The plan a case was opened with, worked out away from the screen. */
function useOpeningPlan({ log }: RecordSource): Planned {
  const planner = usePlanner();
  const [planned, setPlanned] = useState<Planned>(undefined);
  // biome-ignore lint/correctness/useExhaustiveDependencies: further entries do not change how it was opened.
  useEffect(() => {
    if (planner === undefined) {
      setPlanned(null);
      return undefined;
    }
    return planner.opening(log.state, setPlanned);
  }, [planner, log.state.opened]);
  return planned;
}

/** What was done against what was planned, as a picture and as a table. */
export function RecordTimeline(o: { readonly source: RecordSource; readonly facts: RecordFacts }) {
  const { source, facts } = o;
  const planned = useOpeningPlan(source);
  const picture = useMemo(
    () => recordTimeline({ frame: recordFrame(source), facts, planned: planned ?? null }),
    [source, facts, planned],
  );
  const cutsMs = idleCuts(picture).map(({ fromMs, toMs }) => toMs - fromMs);
  const { spec, protocol } = source.log.state.opened;
  return (
    <Section title={timelineWords.title} lede={tookWords(picture, facts.signOff !== null)}>
      <div data-planned={planned !== undefined}>
        <RecordPicture picture={picture} scene={{ spec, protocol }} />
      </div>
      <Key picture={picture} />
      {cutsMs.length > 0 && <p className="record-note">{cutWords(cutsMs)}</p>}
      <p className="record-note">
        {planned === undefined && timelineWords.planning}
        {planned === null && timelineWords.noPlan}
        {planned && timelineWords.source(facts.protocol.revision)}
      </p>
      <div className="lw-screen-only">
        <Disclosure summary={timelineWords.table}>
          <ComparedTable rows={picture.compared} />
        </Disclosure>
      </div>
    </Section>
  );
}

type KeyId = keyof typeof timelineWords.key;

/** Only what this picture shows is explained. */
function keysOf(picture: Picture): KeyId[] {
  const marks = picture.lanes.flatMap((lane) => lane.marks);
  const gauges = [...picture.windows.flat(), ...picture.lanes.flatMap((lane) => lane.gauges)];
  const isBroken = marks.some((m) => m.isBroken) || gauges.some((g) => g.state === 'broken');
  const isPerhaps =
    marks.some((m) => m.isPerhaps) || gauges.some((g) => g.state === 'may-be-broken');
  const isWithin = marks.some((m) => m.kind === 'moment' && drawnToMs(m.from) > m.from.loMs);
  const shown: readonly (readonly [KeyId, boolean])[] = [
    ['done', true],
    ['moment', true],
    ['planned', picture.plannedEndMs !== null],
    ['window', gauges.length > 0],
    ['broken', isBroken],
    ['perhaps', isPerhaps],
    ['within', isWithin],
    ['voided', marks.some((m) => m.isVoided)],
    ['gap', picture.gaps.length > 0],
    ['cut', idleCuts(picture).length > 0],
  ];
  return shown.flatMap(([id, isShown]) => (isShown ? [id] : []));
}

function Key({ picture }: { readonly picture: Picture }) {
  const { key, changeKey } = timelineWords;
  const changes = new Set(picture.changes.map((c) => c.kind));
  return (
    <ul className="record-key" aria-hidden="true">
      {keysOf(picture).map((id) => (
        <li key={id}>
          <svg width="26" height="14" aria-hidden="true">
            <KeyMark id={id} />
          </svg>
          {key[id]}
        </li>
      ))}
      {[...changes].map((kind) => (
        <li key={kind}>
          <svg width="14" height="14" viewBox="-7 0 14 14" aria-hidden="true">
            <ChangeShape kind={kind} />
          </svg>
          {changeKey[kind]}
        </li>
      ))}
    </ul>
  );
}

function KeyMark({ id }: { readonly id: KeyId }) {
  switch (id) {
    case 'moment':
      return <line className="record-moment-mark" x1="13" x2="13" y1="0" y2="14" />;
    case 'within':
      return (
        <g className="record-moment-mark">
          <line className="record-within" x1="3" x2="23" y1="7" y2="7" />
          <line x1="23" x2="23" y1="0" y2="14" />
        </g>
      );
    case 'planned':
      return <rect className="record-planned" x="1" y="3" width="24" height="9" />;
    case 'gap':
      return <rect className="record-gap" width="26" height="14" />;
    case 'cut':
      return (
        <g transform="translate(13 0)">
          <CutShape height={14} />
        </g>
      );
    case 'window':
      return (
        <g className="record-vessel">
          <rect className="record-vessel-fill" x="1" y="4" width="14" height="6" />
          <rect className="record-vessel-wall" x="1" y="3" width="22" height="8" />
          <line className="record-vessel-rim" x1="23" x2="23" y1="1" y2="13" />
        </g>
      );
    default:
      return (
        <rect
          className="record-bar"
          data-broken={id === 'broken'}
          data-perhaps={id === 'perhaps'}
          data-voided={id === 'voided'}
          x="1"
          y={id === 'broken' ? 1 : 3}
          width="24"
          height={id === 'broken' ? 12 : 9}
        />
      );
  }
}

function ComparedTable({ rows }: { readonly rows: readonly Compared[] }) {
  return (
    <Table
      caption={timelineWords.table}
      captionUnseen
      rows={rows}
      rowId={(row) => row.step}
      columns={[
        { id: 'step', label: timelineWords.step, heads: true, cell: (row) => row.title },
        {
          id: 'planned',
          label: timelineWords.planned,
          figures: true,
          cell: (row) => spanWords(row.planned),
        },
        {
          id: 'done',
          label: timelineWords.done,
          figures: true,
          cell: (row) => spanWords(row.done),
        },
        {
          id: 'later',
          label: timelineWords.difference,
          figures: true,
          cell: ({ planned, done }) =>
            laterWords(planned && done ? done.toMs - planned.toMs : null),
        },
      ]}
    />
  );
}
