import { useState } from 'react';
import { Link } from 'wouter';
import type { AppState } from '../../runtime/app-state.ts';
import { finishingVisit } from '../../runtime/library/finishing-visit.ts';
import { todayWords } from '../../words/today-words.ts';
import { Button } from '../parts/Button.tsx';
import { Section } from '../parts/Page.tsx';
import { useSession, useTablet, useTimes } from '../shared/session-context.ts';
import { lastDoneMs } from '../shared/today-model.ts';

/** The first screen is for today; every case is found under Record. */
const SHOWN_MAX = 10;

type Summary = AppState['cases'][number];

/** Closed cases, newest first; each line leads to its record. */
export function FinishedCases(props: {
  readonly finished: readonly Summary[];
  readonly nowMs: number;
}) {
  const times = useTimes();
  return (
    <Section title={todayWords.finished}>
      {props.finished.length === 0 ? (
        <p className="today-ref">{todayWords.noneFinished}</p>
      ) : (
        <ul className="today-finished">
          {props.finished.slice(0, SHOWN_MAX).map((c) => (
            <li key={c.caseId}>
              <Link href={`/record/${c.caseId}`}>
                <span className="today-finished-title">{c.title}</span>
                <span>{c.chartRef}</span>
                <span>{c.mode === 'rehearsal' ? todayWords.rehearsal : todayWords.patient}</span>
                <span>{times.when(lastDoneMs(c), props)}</span>
              </Link>
              <FollowOn caseId={c.caseId} title={c.title} />
            </li>
          ))}
        </ul>
      )}
      {props.finished.length > SHOWN_MAX && (
        <Link href="/record">{todayWords.allFinished(props.finished.length)}</Link>
      )}
    </Section>
  );
}

/** Prepares the finishing visit of a finished case: same teeth, its hold counted from the last light. */
function FollowOn(o: { readonly caseId: string; readonly title: string }) {
  const session = useSession();
  const tablet = useTablet();
  const [said, setSaid] = useState<string | null>(null);
  const prepare = async () => {
    if (!tablet.door.accepts('press')) return;
    const read = await session.readCase(o.caseId);
    if (!read.ok) {
      setSaid(todayWords.followOnFailed);
      return;
    }
    const { prepared } = session.store.getState();
    const visit = finishingVisit(read.value.log, { id: tablet.newId(), prepared });
    if (typeof visit === 'string') {
      setSaid(visit === 'prepared' ? todayWords.followOnPrepared : todayWords.noFollowOn);
      return;
    }
    const saved = await session.saveCase(visit);
    setSaid(saved.ok ? todayWords.followOnPrepared : todayWords.followOnFailed);
  };
  return (
    <>
      <Button
        rank="quiet"
        name={todayWords.followOnName(o.title)}
        onPress={() => {
          void prepare();
        }}
      >
        {todayWords.followOn}
      </Button>
      {said !== null && <p role="status">{said}</p>}
    </>
  );
}
