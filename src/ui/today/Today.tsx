import { lazy, useRef, useState } from 'react';
import { useLocation } from 'wouter';
import type { Result } from '../../base/result.ts';
import type { CaseOpening, NotBegun } from '../../runtime/session-parts.ts';
import { todayWords } from '../../words/today-words.ts';
import { EmptyState } from '../parts/Banner.tsx';
import { Button } from '../parts/Button.tsx';
import { Held, Late } from '../parts/Late.tsx';
import { Section } from '../parts/Page.tsx';
import { Segmented } from '../parts/Segmented.tsx';
import { Frame } from '../shared/Frame.tsx';
import { OpenCases } from '../shared/OpenCases.tsx';
import { useApp, useSession, useTablet, useTimes } from '../shared/session-context.ts';
import { type DueGroup, type PreparedCard, todayModel } from '../shared/today-model.ts';
import { PreparedRow } from './PreparedRow.tsx';
import './today.css';

const TodayNotices = lazy(async () => ({
  default: (await import('./TodayNotices.tsx')).TodayNotices,
}));

const FinishedCases = lazy(async () => ({
  default: (await import('./FinishedCases.tsx')).FinishedCases,
}));

const TodayRecalls = lazy(async () => ({
  default: (await import('./TodayRecalls.tsx')).TodayRecalls,
}));

const TodayDue = lazy(async () => ({ default: (await import('./TodayDue.tsx')).TodayDue }));

const SPEEDS = ['1', '10', '60'] as const;
type SpeedText = (typeof SPEEDS)[number];
const SPEED_OF = { '1': 1, '10': 10, '60': 60 } as const;

/** What is going on, what is due, and what was finished. */
export function Today() {
  const [, navigate] = useLocation();
  const tablet = useTablet();
  const cases = useApp((s) => s.cases);
  const prepared = useApp((s) => s.prepared);
  const protocols = useApp((s) => s.protocols);
  const runningId = useApp((s) => s.running?.caseId ?? null);
  const nowMs = tablet.wallNowMs();
  const times = useTimes();
  const model = todayModel({ cases, prepared, protocols, runningId, nowMs, times });
  const isQuiet = model.open.length === 0;
  return (
    <Frame
      place="today"
      title={todayWords.title}
      lede={model.dueCount > 0 ? todayWords.ledeDue(model.dueCount) : todayWords.ledeNone}
      actions={
        <>
          <Button onPress={() => navigate('/drill')}>{todayWords.drills}</Button>
          <Button onPress={() => navigate('/set-up')}>{todayWords.setUp}</Button>
        </>
      }
    >
      {/* All at once: what comes a moment later must not move a button under a finger. */}
      <Late>
        <OpenCases open={model.open} nowMs={nowMs} />
        <Held>
          <TodayDue />
        </Held>
        <Held>
          <TodayNotices />
        </Held>
        <Prepared groups={model.groups} isMain={isQuiet} />
        <Held>
          <TodayRecalls>
            {/* Begins to load when the recalls have been read: what stands already must not go for it. */}
            <Late>
              <FinishedCases finished={model.finished} nowMs={nowMs} />
            </Late>
          </TodayRecalls>
        </Held>
      </Late>
    </Frame>
  );
}

/** The hold is told first: who insists on what comes after it was told of both. */
const insisted = (why: NotBegun | undefined) =>
  ({
    mode: 'patient',
    withinHold: true,
    ...(why?.code === 'hold-runs' ? {} : { allTheSame: true }),
  }) as const;

type Asked = Pick<CaseOpening, 'mode' | 'allTheSame' | 'withinHold'> | { readonly mode: 'drill' };

interface Refused {
  readonly id: string;
  readonly why: NotBegun;
  readonly as: Asked;
}

/** Opens prepared cases; what stands in the way is kept beside the case it belongs to. */
function useOpening(speed: SpeedText) {
  const session = useSession();
  const opening = useRef<Asked['mode'] | null>(null);
  const [, navigate] = useLocation();
  const [refused, setRefused] = useState<Refused | null>(null);
  const [drawing, setDrawing] = useState<string | null>(null);
  const open = async ({ spec }: PreparedCard, as: Asked): Promise<void> => {
    // A case does not wait for a drill that is being drawn.
    const isFree = opening.current === null || opening.current === 'drill';
    if (!isFree || opening.current === as.mode) return;
    opening.current = as.mode;
    if (as.mode === 'drill') setDrawing(spec.id);
    const begin = async (): Promise<Result<string, NotBegun>> => {
      if (as.mode === 'drill') return (await session.drills()).begin(spec);
      const atSpeed = as.mode === 'patient' ? 1 : SPEED_OF[speed];
      return session.openCase({ spec, speed: atSpeed, ...as });
    };
    const opened = await begin().finally(() => {
      if (opening.current === as.mode) opening.current = null;
      if (as.mode === 'drill') setDrawing(null);
    });
    if (opened.ok) navigate('/chair');
    else setRefused({ id: spec.id, why: opened.error, as });
  };
  return { refused, drawing, open };
}

function Prepared(props: { readonly groups: readonly DueGroup[]; readonly isMain: boolean }) {
  const [, navigate] = useLocation();
  const [speed, setSpeed] = useState<SpeedText>('1');
  const { refused, drawing, open } = useOpening(speed);
  const firstId = props.groups[0]?.cards[0]?.spec.id;
  return (
    <Section title={todayWords.prepared}>
      {props.groups.length === 0 ? (
        <EmptyState
          words={todayWords.nonePrepared}
          advice={todayWords.nonePreparedTodo}
          action={<Button onPress={() => navigate('/set-up')}>{todayWords.setUp}</Button>}
        />
      ) : (
        <div className="today-speed">
          <span aria-hidden="true">{todayWords.speed}</span>
          <Segmented
            labelUnseen
            label={todayWords.speed}
            value={speed}
            options={SPEEDS.map((value) => ({ value, label: todayWords.speedOf(value) }))}
            onChange={setSpeed}
          />
        </div>
      )}
      {props.groups.map((group) => (
        <section key={group.title} className="today-group" data-group={group.kind}>
          <h3>{group.title}</h3>
          <ul className="today-cards">
            {group.cards.map((card) => (
              <PreparedRow
                key={card.spec.id}
                card={card}
                speed={SPEED_OF[speed]}
                isMain={props.isMain && card.spec.id === firstId}
                isDrawing={drawing === card.spec.id}
                refusal={refused?.id === card.spec.id ? refused.why : null}
                onBegin={() => void open(card, { mode: 'patient' })}
                onBeginAllTheSame={() => void open(card, insisted(refused?.why))}
                onAgain={() => refused && void open(card, refused.as)}
                onDrill={() => void open(card, { mode: 'drill' })}
                onRehearse={() => void open(card, { mode: 'rehearsal' })}
              />
            ))}
          </ul>
        </section>
      ))}
    </Section>
  );
}
