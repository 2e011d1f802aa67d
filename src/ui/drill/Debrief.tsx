import { useState } from 'react';
import { useLocation } from 'wouter';
import type { Problem } from '../../base/problem.ts';
import { isRightInTime } from '../../drill/score.ts';
import type { Refusal } from '../../engine/commands.ts';
import { NO_NOTES } from '../../runtime/drills/drill-document.ts';
import type { DrillTold } from '../../runtime/drills/drills-told.ts';
import { drillCardWords } from '../../words/drill-sight-words.ts';
import { drillWords } from '../../words/drill-words.ts';
import { formatClock } from '../../words/duration.ts';
import { openingWords } from '../../words/opening-words.ts';
import { protocolWords } from '../../words/protocol-words.ts';
import { Banner } from '../parts/Banner.tsx';
import { Button, ButtonRow } from '../parts/Button.tsx';
import { TextField } from '../parts/Field.tsx';
import { Section } from '../parts/Page.tsx';
import { Table } from '../parts/Table.tsx';
import { Frame } from '../shared/Frame.tsx';
import { useApp, useSession, useTablet, useTimes } from '../shared/session-context.ts';
import { useLoaded } from '../shared/use-loaded.ts';
import { DebriefWho } from './DebriefWho.tsx';
import { type DebriefModel, debriefModel, type TimelineMark } from './debrief-model.ts';
import './debrief.css';

const GONE: ReadonlySet<string> = new Set(['no-such-case', 'case-deleted', 'drill-untold']);

/** After a drill, at once: what went right, card by card, the run beside the ideal one, three questions, again. */
export function Debrief({ caseId }: { readonly caseId: string }) {
  const session = useSession();
  const [asked, setAsked] = useState(0);
  const loaded = useLoaded(
    async () => (await session.drills()).told(caseId),
    [session, caseId, asked],
  );
  const { debrief } = drillWords;
  const told = loaded.value;
  // What is not here, or drawn otherwise, stays so; all else may be told the next time.
  const isLost = told?.ok === false && GONE.has(told.error.code);
  if (told === undefined || !told.ok) {
    return (
      <Frame place="today" title={debrief.title}>
        {loaded.state === 'loading' ? (
          <p role="status">{debrief.loading}</p>
        ) : isLost ? (
          <Banner tone="attention" words={debrief.lost} advice={debrief.lostTodo} />
        ) : (
          <Banner
            tone="attention"
            words={debrief.notTold}
            advice={debrief.notToldTodo}
            action={<Button onPress={() => setAsked(asked + 1)}>{drillWords.askAgain}</Button>}
          />
        )}
      </Frame>
    );
  }
  return <Told caseId={caseId} told={told.value} />;
}

function Told({ caseId, told }: { readonly caseId: string; readonly told: DrillTold }) {
  const [, navigate] = useLocation();
  const tablet = useTablet();
  const times = useTimes();
  const { debrief } = drillWords;
  const { account, log } = told;
  const { drill, drilled } = account.course;
  const model = debriefModel(account);
  const endedMs = log.records.at(-1)?.stamp.wallMs ?? 0;
  const about = {
    title: drilled.spec.title,
    when: times.whenInLine(endedMs, { nowMs: tablet.wallNowMs() }),
  };
  return (
    <Frame
      place="today"
      title={debrief.title}
      lede={drill.again === undefined ? debrief.lede(about) : debrief.ledeAgain(about)}
    >
      <p className="drill-debrief-mark">
        <strong>{drillWords.mark}</strong>
      </p>
      <Section title={debrief.wentRight}>
        {model.rows.length === 0 && <p>{debrief.noCards}</p>}
        {model.right.length === 0 ? (
          <p>{debrief.wentRightNone}</p>
        ) : (
          <ul className="drill-right">
            {model.right.map((line) => (
              <li key={line}>{line}</li>
            ))}
          </ul>
        )}
      </Section>
      {model.rows.length > 0 && <Measures model={model} />}
      <Timeline model={model} />
      {told.kept !== null && <DebriefWho kept={told.kept} />}
      <Questions caseId={caseId} told={told} />
      <Again caseId={caseId} told={told} />
      <Section title={debrief.seed(drill.seed)} lede={debrief.seedLede}>
        {drill.toward.length > 0 && (
          <p>
            {debrief.toward({
              names: drill.toward.map((kind) => protocolWords.mishaps[kind]),
              ids: drill.toward,
            })}
          </p>
        )}
        <ButtonRow>
          <Button onPress={() => navigate(`/record/${caseId}`)}>{debrief.toRecord}</Button>
          <Button onPress={() => navigate('/drill')}>{debrief.toReadiness}</Button>
        </ButtonRow>
      </Section>
    </Frame>
  );
}

function Measures({ model }: { readonly model: DebriefModel }) {
  const { debrief } = drillWords;
  const { columns } = debrief;
  return (
    <Section title={debrief.measures} lede={debrief.measuresLede}>
      <Table
        caption={debrief.measures}
        captionUnseen
        columns={[
          { id: 'card', label: columns.card, cell: (r) => r.seen, heads: true },
          { id: 'first', label: columns.first, cell: (r) => r.first },
          { id: 'right', label: columns.right, cell: (r) => r.right },
          { id: 'time', label: columns.inTime, cell: (r) => r.inTime },
        ]}
        rows={model.rows}
        rowId={(r) => r.id}
      />
      <dl className="drill-rest">
        <div>
          <dt>{debrief.bounds}</dt>
          <dd>
            {model.limits.length === 0 ? (
              debrief.boundsNone
            ) : (
              <>
                {debrief.boundsSome(model.limits.length)}
                <ul>
                  {model.limits.map((words) => (
                    <li key={words}>{words}</li>
                  ))}
                </ul>
              </>
            )}
          </dd>
        </div>
        <div>
          <dt>{debrief.presses}</dt>
          <dd>{model.presses}</dd>
        </div>
      </dl>
    </Section>
  );
}

function Timeline({ model }: { readonly model: DebriefModel }) {
  const { debrief } = drillWords;
  // Of a drill in which nothing came, and no limit was broken, there is nothing to lay side by side.
  if (model.run.length + model.ideal.length === 0) return null;
  return (
    <Section title={debrief.timeline} lede={debrief.timelineLede}>
      <div className="drill-lanes" aria-hidden="true">
        <Lane name={debrief.run} marks={model.run} lastsMs={model.lastsMs} />
        <Lane name={debrief.ideal} marks={model.ideal} lastsMs={model.lastsMs} />
      </div>
      <div className="drill-lists">
        <Lines name={debrief.run} marks={model.run} />
        <Lines name={debrief.ideal} marks={model.ideal} />
      </div>
      {model.neverCame > 0 && <p>{debrief.neverCame(model.neverCame)}</p>}
    </Section>
  );
}

interface LaneProps {
  readonly name: string;
  readonly marks: readonly TimelineMark[];
}

/** A mark a thing that happened, from left to right. */
function Lane({ name, marks, lastsMs }: LaneProps & { readonly lastsMs: number }) {
  return (
    <div className="drill-lane">
      <span>{name}</span>
      <div className="drill-lane-line">
        {marks.map(({ id, kind, atMs }) => (
          <span
            key={id}
            data-kind={kind}
            style={{ insetInlineStart: `${Math.min(100, (100 * atMs) / lastsMs)}%` }}
          />
        ))}
      </div>
    </div>
  );
}

function Lines({ name, marks }: LaneProps) {
  return (
    <div>
      <h3>{name}</h3>
      {marks.length === 0 && <p className="lw-quiet">{drillWords.debrief.nothing}</p>}
      <ol>
        {marks.map(({ id, kind, atMs, words }) => (
          <li key={id} data-kind={kind}>
            <time>{formatClock(atMs)}</time> <span>{words}</span>
          </li>
        ))}
      </ol>
    </div>
  );
}

function Questions({ caseId, told }: { readonly caseId: string; readonly told: DrillTold }) {
  const session = useSession();
  const isReader = useApp((s) => s.standing !== 'writer');
  const [notes, setNotes] = useState(told.kept?.notes ?? NO_NOTES);
  const [kept, setKept] = useState<boolean | null>(null);
  const { debrief } = drillWords;
  const change = (part: Partial<typeof notes>): void => {
    setNotes({ ...notes, ...part });
    setKept(null);
  };
  const keep = async (): Promise<void> => {
    const done = await (await session.drills()).note(caseId, notes);
    setKept(done.ok);
  };
  const field = (part: 'seen' | 'thought' | 'easier') => (
    <TextField
      label={debrief[part]}
      lines={2}
      value={notes[part]}
      onChange={(words) => change({ [part]: words })}
    />
  );
  return (
    <Section title={debrief.questions} lede={debrief.questionsLede}>
      <div className="drill-questions">
        {field('seen')}
        {field('thought')}
        {field('easier')}
        <Button disabled={isReader} onPress={() => void keep()}>
          {debrief.keep}
        </Button>
        {kept !== null && <p role="status">{kept ? debrief.kept : debrief.notKept}</p>}
      </div>
    </Section>
  );
}

function Again({ caseId, told }: { readonly caseId: string; readonly told: DrillTold }) {
  const session = useSession();
  const [, navigate] = useLocation();
  const [refused, setRefused] = useState<Problem | Refusal | null>(null);
  const { debrief } = drillWords;
  const { spec } = told.account.course.drilled;
  const cards = told.account.score.cards.filter(({ shown }) => told.again.includes(shown.card.id));
  const begin = async (card: string): Promise<void> => {
    const begun = await (await session.drills()).again(caseId, card);
    if (begun.ok) navigate('/chair');
    else setRefused(begun.error);
  };
  const mishaps = told.account.score.cards.filter(({ shown }) => shown.card.kind === 'mishap');
  const areDone = mishaps.every(isRightInTime);
  if (cards.length === 0 && (mishaps.length === 0 || !areDone)) return null;
  return (
    <Section
      title={debrief.again}
      lede={cards.length === 0 ? debrief.againNone : debrief.againLede}
    >
      <ul className="drill-again">
        {cards.map(({ shown }) => {
          const seen = drillCardWords(shown.card, spec);
          return (
            <li key={shown.card.id}>
              <span>{seen}</span>
              <Button
                rank="main"
                size="chair"
                name={debrief.againName(seen)}
                onPress={() => void begin(shown.card.id)}
              >
                {debrief.againDo}
              </Button>
            </li>
          );
        })}
      </ul>
      {refused !== null && (
        <Banner
          tone="attention"
          words={openingWords(refused).what}
          advice={openingWords(refused).todo}
        />
      )}
    </Section>
  );
}
