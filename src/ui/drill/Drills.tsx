import { Link, useLocation } from 'wouter';
import type { KindStanding } from '../../drill/readiness.ts';
import type { KeptDrill } from '../../runtime/drills/drill-document.ts';
import { drillWords } from '../../words/drill-words.ts';
import { protocolWords } from '../../words/protocol-words.ts';
import { Button } from '../parts/Button.tsx';
import { Section } from '../parts/Page.tsx';
import { type MarkShape, StateMark } from '../parts/StateMark.tsx';
import { Table } from '../parts/Table.tsx';
import { Frame } from '../shared/Frame.tsx';
import { useApp, useSession, useTablet, useTimes } from '../shared/session-context.ts';
import { useLoaded } from '../shared/use-loaded.ts';
import './debrief.css';

const SHAPE: Readonly<Record<KindStanding['state'], MarkShape>> = {
  'not-practised': 'empty',
  practising: 'part',
  ready: 'full',
  due: 'target',
  lapsed: 'struck',
};

const isDue = ({ state, isIntroduced }: KindStanding): boolean =>
  isIntroduced && (state === 'due' || state === 'lapsed' || state === 'not-practised');

const DAY_MS = 86_400_000;

/** How far practice is with each kind of mishap, what is due, and the drills that were done. No names. */
export function Drills() {
  const session = useSession();
  const [, navigate] = useLocation();
  const { readiness } = drillWords;
  const loaded = useLoaded(async () => {
    const drills = await session.drills();
    await drills.prune(session.casesList);
    return { standings: await drills.standings(), kept: await drills.kept() };
  }, [session]);
  const standings = loaded.value?.standings ?? [];
  const due = standings.filter(isDue);
  return (
    <Frame
      place="today"
      title={readiness.title}
      lede={readiness.lede}
      actions={<Button onPress={() => navigate('/')}>{readiness.toToday}</Button>}
    >
      <Section title={readiness.due} lede={readiness.dueDo}>
        {loaded.state === 'loaded' && (
          <p>
            {due.length === 0
              ? readiness.dueNone
              : readiness.keptKinds(due.map(({ mishap }) => protocolWords.mishaps[mishap]))}
          </p>
        )}
      </Section>
      <Grid standings={standings} />
      <Section title={readiness.how}>
        <div className="drill-words">
          {readiness.howLines.map((line) => (
            <p key={line}>{line}</p>
          ))}
        </div>
      </Section>
      <Section title={readiness.rules}>
        <div className="drill-words">
          {readiness.rulesLines.map((line) => (
            <p key={line}>{line}</p>
          ))}
        </div>
      </Section>
      {loaded.state === 'loaded' && <Kept kept={loaded.value.kept} />}
    </Frame>
  );
}

function Grid({ standings }: { readonly standings: readonly KindStanding[] }) {
  const times = useTimes();
  const { wallNowMs } = useTablet();
  const { readiness } = drillWords;
  const { columns } = readiness;
  const today = times.daysFrom('1970-01-01', wallNowMs());
  const dayWords = (day: number): string =>
    day <= today ? readiness.now : readiness.on(times.date(wallNowMs() + (day - today) * DAY_MS));
  return (
    <Section title={readiness.grid}>
      <Table
        caption={readiness.grid}
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

function Kept({ kept }: { readonly kept: readonly KeptDrill[] }) {
  const { readiness } = drillWords;
  const times = useTimes();
  const { wallNowMs } = useTablet();
  const cases = useApp((s) => s.cases);
  return (
    <Section title={readiness.kept} lede={readiness.keptLede}>
      {kept.length === 0 && <p>{readiness.keptNone}</p>}
      <ul className="drill-kept">
        {kept.toReversed().map(({ caseId, atWallMs, seed, kinds, again }) => {
          const when = times.when(atWallMs, { nowMs: wallNowMs() });
          const line = readiness.keptLine({ when, seed });
          const names = kinds.map(({ mishap }) => protocolWords.mishaps[mishap]);
          const isHere = cases.some((c) => c.caseId === caseId);
          return (
            <li key={caseId}>
              {isHere ? <Link href={`/drill/${caseId}`}>{line}</Link> : <span>{line}</span>}
              <span>{names.length === 0 ? readiness.keptNothing : readiness.keptKinds(names)}</span>
              {again !== undefined && <span className="lw-quiet">{readiness.keptAgain}</span>}
              {!isHere && <span className="lw-quiet">{readiness.gone}</span>}
            </li>
          );
        })}
      </ul>
    </Section>
  );
}
