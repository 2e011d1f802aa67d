import type { Protocol } from '../../protocol/types.ts';
import type { LearnedWindow } from '../../runtime/lead/lead-learning.ts';
import { formatWords } from '../../words/duration.ts';
import { learningWords } from '../../words/learning-words.ts';
import { Gauge } from '../parts/Gauge.tsx';
import { Section } from '../parts/Page.tsx';
import { StateMark } from '../parts/StateMark.tsx';
import { Table } from '../parts/Table.tsx';
import { spreadWords } from './LearningSteps.tsx';

const GAUGE_PX = 180;

function OpenGauge({ window, open }: LearnedWindow) {
  if (open === null) return null;
  const { minMs, maxMs } = window;
  return (
    <Gauge
      kind={maxMs === undefined ? 'hold' : 'window'}
      elapsedLoMs={open.medianMs}
      elapsedHiMs={open.p90Ms}
      {...(minMs === undefined ? {} : { floorMs: minMs.value })}
      {...(maxMs === undefined ? {} : { rimMs: maxMs.value })}
      size="stroke"
      orientation="lying"
      lengthPx={GAUGE_PX}
      label={learningWords.gauge(window.title)}
    />
  );
}

/** Each window with how long it stood open, in how many cases it was broken, and where. */
export function LearningWindows(props: {
  readonly windows: readonly LearnedWindow[];
  readonly protocol: Protocol;
}) {
  const { windows, protocol } = props;
  const titleOf = (id: string) => protocol.steps.find((s) => s.id === id)?.title ?? id;
  const where = ({ window, subjects }: LearnedWindow): string =>
    learningWords.whereWords({
      from: titleOf(window.from.step),
      to: titleOf(window.to.step),
      on: subjects.map((subject) => subject.replace(/^(unit|tooth):/, '')).join(', '),
    });
  return (
    <Section title={learningWords.windows} lede={learningWords.windowsLede}>
      <Table
        caption={learningWords.windows}
        captionUnseen
        rows={windows}
        rowId={(row) => row.window.id}
        empty={learningWords.noWindows}
        columns={[
          { id: 'window', label: learningWords.window, heads: true, cell: (r) => r.window.title },
          { id: 'gauge', label: '', cell: (row) => <OpenGauge {...row} /> },
          { id: 'open', label: learningWords.took, cell: (row) => spreadWords(row.open) },
          {
            id: 'broken',
            label: learningWords.broken,
            cell: ({ casesBroken, cases }) => (
              <span className="learning-broken" data-broken={casesBroken > 0}>
                <StateMark shape={casesBroken > 0 ? 'spilled' : 'full'} />
                {learningWords.brokenIn({ broken: casesBroken, cases })}
              </span>
            ),
          },
          {
            id: 'worst',
            label: learningWords.worst,
            figures: true,
            cell: ({ worstMs }) => (worstMs === 0 ? '' : formatWords(worstMs, 'up')),
          },
          { id: 'where', label: learningWords.where, cell: where },
        ]}
      />
    </Section>
  );
}
