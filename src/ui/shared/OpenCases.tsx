import { lazy, useEffect, useRef, useState } from 'react';
import { useLocation } from 'wouter';
import type { Problem } from '../../base/problem.ts';
import type { AppState } from '../../runtime/app-state.ts';
import { chairWords } from '../../words/chair-words.ts';
import type { Times } from '../../words/date-words.ts';
import { openCaseWords } from '../../words/open-case-words.ts';
import { todayWords } from '../../words/today-words.ts';
import { Arch } from '../parts/Arch.tsx';
import { Button } from '../parts/Button.tsx';
import { Late } from '../parts/Late.tsx';
import { archTeeth } from './arch-model.ts';
import { useApp, useSession, useTablet, useTimes } from './session-context.ts';
import { isElsewhere, lastDoneMs } from './today-model.ts';

const ElsewhereCases = lazy(async () => ({
  default: (await import('./ElsewhereCases.tsx')).ElsewhereCases,
}));

const CaseNotOpened = lazy(async () => ({
  default: (await import('./CaseNotOpened.tsx')).CaseNotOpened,
}));

type Summary = AppState['cases'][number];

/** When the last entry was made; of a rehearsal, whose clock may run ahead, when it was begun. */
function lastWords(c: Summary, o: { readonly nowMs: number; readonly times: Times }): string {
  const when = o.times.whenInLine(lastDoneMs(c), o);
  return c.mode === 'patient' ? todayWords.lastPress(when) : todayWords.openedAt(when);
}

/** Takes a case up again and shows the chair; says why when it cannot. */
function useGoOn() {
  const session = useSession();
  const [path, navigate] = useLocation();
  const [refused, setRefused] = useState<{ caseId: string; why: Problem } | null>(null);
  const isGoing = useRef(false);
  const goOn = async (caseId: string): Promise<void> => {
    if (isGoing.current) return;
    isGoing.current = true;
    const resumed = await session.resumeCase(caseId).finally(() => {
      isGoing.current = false;
    });
    if (resumed.ok) navigate('/chair', { replace: path === '/chair' });
    else setRefused({ caseId, why: resumed.error });
  };
  return { refused, goOn };
}

function Hero(props: {
  readonly summary: Summary;
  readonly nowMs: number;
  readonly onGoOn: () => void;
}) {
  const { summary, nowMs } = props;
  const [, navigate] = useLocation();
  const running = useApp((s) => s.running);
  const times = useTimes();
  const own = running?.caseId === summary.caseId ? running : null;
  const mode = summary.mode === 'rehearsal' ? todayWords.rehearsal : todayWords.patient;
  const opened = todayWords.openedAt(times.whenInLine(summary.openedWallMs, { nowMs }));
  return (
    <section className="today-hero" aria-label={summary.title}>
      <div className="today-hero-what">
        <p className="today-hero-word">
          {own && !own.isViewOnly ? todayWords.running : todayWords.unfinished}
        </p>
        <h2>{summary.title}</h2>
        <p className="today-ref">
          {openCaseWords.caseAndMode({ chartRef: summary.chartRef, mode })}
          {own && (
            <span className="today-numbering">{chairWords.numberings[own.log.state.notation]}</span>
          )}
        </p>
        <p className="today-ref">
          {own || summary.mode === 'patient'
            ? openCaseWords.openedAndLast({
                opened,
                last: own ? todayWords.progress(own.view) : lastWords(summary, { nowMs, times }),
              })
            : opened}
        </p>
      </div>
      {own && (
        <div className="today-hero-arch" aria-hidden="true">
          <Arch teeth={archTeeth(own).map((t) => ({ ...t, active: false }))} hideSides />
        </div>
      )}
      <div className="today-hero-buttons">
        <Button
          rank="main"
          size="chair"
          onPress={props.onGoOn}
          name={todayWords.goOnName(summary.title)}
        >
          {todayWords.goOn}
        </Button>
        <Button
          rank="quiet"
          onPress={() => navigate(`/record/${summary.caseId}`)}
          name={todayWords.recordName(summary.title)}
        >
          {todayWords.toRecord}
        </Button>
      </div>
    </section>
  );
}

function Others(props: {
  readonly cases: readonly Summary[];
  readonly nowMs: number;
  readonly onGoOn: (caseId: string) => void;
}) {
  const [, navigate] = useLocation();
  const times = useTimes();
  if (props.cases.length === 0) return null;
  return (
    <section className="today-others" aria-label={todayWords.alsoUnfinished}>
      <h3>{todayWords.alsoUnfinished}</h3>
      <ul>
        {props.cases.map((c) => (
          <li key={c.caseId}>
            <p>
              <strong>{c.title}</strong>{' '}
              <span className="today-ref">
                {openCaseWords.caseModeAndLast({
                  chartRef: c.chartRef,
                  mode: c.mode === 'rehearsal' ? todayWords.rehearsal : todayWords.patient,
                  last: lastWords(c, { nowMs: props.nowMs, times }),
                })}
              </span>
            </p>
            <Button onPress={() => props.onGoOn(c.caseId)} name={todayWords.goOnName(c.title)}>
              {todayWords.goOn}
            </Button>
            <Button
              rank="quiet"
              onPress={() => navigate(`/record/${c.caseId}`)}
              name={todayWords.recordName(c.title)}
            >
              {todayWords.toRecord}
            </Button>
          </li>
        ))}
      </ul>
    </section>
  );
}

/**
 * Cases that were begun and not closed, the most important one large. At the chair a key or the pedal
 * goes on with that one, as its button does.
 */
export function OpenCases(props: {
  readonly open: readonly Summary[];
  readonly nowMs: number;
  readonly isAtChair?: boolean;
}) {
  const { refused, goOn } = useGoOn();
  const { door } = useTablet();
  const tablet = useApp((s) => s.settings.tablet);
  const isShared = useApp((s) => s.sharing.standing !== 'alone');
  const others = props.open.filter((c) => isElsewhere(c, { tablet, isShared }));
  const [first, ...rest] = props.open.filter((c) => !others.includes(c));
  useEffect(() => {
    if (!props.isAtChair || !first) return undefined;
    return door.onPress(() => void goOn(first.caseId));
  });
  if (props.open.length === 0) return null;
  return (
    <div className="today-open">
      {first && <Hero summary={first} nowMs={props.nowMs} onGoOn={() => void goOn(first.caseId)} />}
      {refused !== null && (
        <Late>
          <CaseNotOpened why={refused.why} onAgain={() => void goOn(refused.caseId)} />
        </Late>
      )}
      <Others cases={rest} nowMs={props.nowMs} onGoOn={(id) => void goOn(id)} />
      {others.length > 0 && (
        <Late>
          <ElsewhereCases cases={others} />
        </Late>
      )}
    </div>
  );
}
