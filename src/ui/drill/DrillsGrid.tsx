import type { KindStanding } from '../../drill/readiness.ts';
import { drillWords } from '../../words/drill-words.ts';
import { protocolWords } from '../../words/protocol-words.ts';
import { Section } from '../parts/Page.tsx';
import { type MarkShape, StateMark } from '../parts/StateMark.tsx';
import { Table } from '../parts/Table.tsx';
import { useTablet, useTimes } from '../shared/session-context.ts';

const SHAPE: Readonly<Record<KindStanding['state'], MarkShape>> = {
  'not-practised': 'empty',
  practising: 'part',
  ready: 'full',
  due: 'target',
  lapsed: 'struck',
};

const DAY_MS = 86_400_000;

/** How far practice is with each kind, in words and shape. */
export function DrillsGrid({
  standings,
  title,
}: {
  readonly standings: readonly KindStanding[];
  readonly title: string;
}) {
  const times = useTimes();
  const { wallNowMs } = useTablet();
  const { readiness } = drillWords;
  const { columns } = readiness;
  const today = times.daysFrom('1970-01-01', wallNowMs());
  const dayWords = (day: number): string =>
    day <= today ? readiness.now : readiness.on(times.date(wallNowMs() + (day - today) * DAY_MS));
  return (
    <Section title={title}>
      <Table
        caption={title}
        captionUnseen
        columns={[
          {
            id: 'kind',
            label: columns.kind,
            heads: true,
            cell: (row) => protocolWords.mishaps[row.mishap],
          },
          {
            id: 'state',
            label: columns.state,
            cell: (row) => (
              <span className="drill-state">
                <StateMark shape={row.isIntroduced ? SHAPE[row.state] : 'empty'} />
                {row.isIntroduced ? readiness.state[row.state] : readiness.later}
              </span>
            ),
          },
          { id: 'times', label: columns.times, figures: true, cell: (row) => row.times },
          {
            id: 'next',
            label: columns.next,
            cell: (row) => dayWords(row.isIntroduced ? row.dueDay : row.fromDay),
          },
        ]}
        rows={standings}
        rowId={(row) => row.mishap}
      />
    </Section>
  );
}
