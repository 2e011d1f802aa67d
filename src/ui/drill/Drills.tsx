import { useState } from 'react';
import { Link, useLocation } from 'wouter';
import type { KindStanding } from '../../drill/readiness.ts';
import type { KeptDrill } from '../../runtime/drills/drill-document.ts';
import type { DrillPeople } from '../../runtime/drills/drill-people.ts';
import { drillWords } from '../../words/drill-words.ts';
import { protocolWords } from '../../words/protocol-words.ts';
import { Button } from '../parts/Button.tsx';
import { SelectField } from '../parts/Field.tsx';
import { Section } from '../parts/Page.tsx';
import { Segmented } from '../parts/Segmented.tsx';
import { Frame } from '../shared/Frame.tsx';
import { useApp, useSession, useTablet, useTimes } from '../shared/session-context.ts';
import { useLoaded } from '../shared/use-loaded.ts';
import { DrillsGrid } from './DrillsGrid.tsx';
import { DrillsLoaded } from './DrillsLoaded.tsx';
import { DrillsOwn } from './DrillsOwn.tsx';
import { PairNow } from './PairNow.tsx';
import { useHeard } from './use-heard.ts';
import './debrief.css';

const isDue = ({ state, isIntroduced }: KindStanding): boolean =>
  isIntroduced && (state === 'due' || state === 'lapsed' || state === 'not-practised');

const PARTS = ['tablet', 'own'] as const;

/** How far practice is with each kind of mishap: on this tablet without names, or of one pair that gives its names. */
export function Drills() {
  const [, navigate] = useLocation();
  const [part, setPart] = useState<(typeof PARTS)[number]>('tablet');
  const { readiness, pair } = drillWords;
  return (
    <Frame
      place="today"
      title={readiness.title}
      lede={part === 'tablet' ? readiness.lede : pair.ownLede}
      actions={<Button onPress={() => navigate('/')}>{readiness.toToday}</Button>}
    >
      <Segmented
        labelUnseen
        label={pair.parts}
        value={part}
        options={PARTS.map((value) => ({ value, label: pair.part[value] }))}
        onChange={setPart}
      />
      {part === 'tablet' ? <OfTablet /> : <DrillsOwn />}
    </Frame>
  );
}

/** What is due, and the drills that were done. No names, but of who shares. */
function OfTablet() {
  const session = useSession();
  const { readiness } = drillWords;
  const heard = useHeard();
  const loaded = useLoaded(
    async () => {
      const drills = await session.drills();
      await drills.prune(session.casesList);
      const [standings, kept, people] = await Promise.all([
        drills.standings(),
        drills.kept(),
        drills.people(),
      ]);
      return { drills, standings, kept, people };
    },
    [session],
    [heard],
  );
  return (
    <>
      <DrillsLoaded loaded={loaded}>
        {({ drills, standings, kept, people }) => (
          <>
            <Due standings={standings} />
            <DrillsGrid standings={standings} title={readiness.grid} />
            <PairNow drills={drills} />
            <Shared people={people} />
            <Kept kept={kept} />
          </>
        )}
      </DrillsLoaded>
      <Section title={readiness.how}>
        <div className="drill-words">
          {readiness.howLines.map((line) => (
            <p key={line}>{line}</p>
          ))}
        </div>
      </Section>
      <Section title={readiness.rules}>
        <div className="drill-words">
          {loaded.state === 'loaded' && <Signed people={loaded.value.people} />}
          {readiness.rulesLines.map((line) => (
            <p key={line}>{line}</p>
          ))}
        </div>
      </Section>
    </>
  );
}

function Due({ standings }: { readonly standings: readonly KindStanding[] }) {
  const { readiness } = drillWords;
  const due = standings.filter(isDue);
  return (
    <Section title={readiness.due} lede={readiness.dueDo}>
      <p>
        {due.length === 0
          ? readiness.dueNone
          : readiness.keptKinds(due.map(({ mishap }) => protocolWords.mishaps[mishap]))}
      </p>
    </Section>
  );
}

/** What the lead signs, and whether that was done. */
function Signed({ people: { signed } }: { readonly people: DrillPeople }) {
  const times = useTimes();
  const { readiness } = drillWords;
  return (
    <p>
      <strong>{signed?.words ?? readiness.sentence}</strong>{' '}
      {signed === null
        ? `${readiness.notSigned} ${readiness.notSignedTodo}`
        : readiness.signed({ by: signed.by, on: times.date(signed.onWallMs) })}
    </p>
  );
}

/** The kinds that one person practised who lets others see it: one at a time, beside nobody. */
function Shared({ people: { shared } }: { readonly people: DrillPeople }) {
  const [person, setPerson] = useState('');
  const { pair } = drillWords;
  const chosen = shared.find((one) => one.person === person);
  if (shared.length === 0) return null;
  return (
    <Section title={pair.shared} lede={pair.sharedLede}>
      <div className="drill-questions">
        <SelectField
          label={pair.sharedWho}
          value={chosen?.person ?? ''}
          options={[
            { value: '', label: pair.sharedNobody },
            ...shared.map(({ person: value }) => ({ value, label: value })),
          ]}
          onChange={setPerson}
        />
        {chosen !== undefined && (
          <p>
            {pair.sharedKinds({
              person: chosen.person,
              kinds: chosen.kinds.map((kind) => protocolWords.mishaps[kind]),
            })}
          </p>
        )}
      </div>
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
