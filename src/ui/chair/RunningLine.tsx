import { useEffect } from 'react';
import { useLocation } from 'wouter';
import type { RunningCase } from '../../runtime/app-state.ts';
import { chairWords } from '../../words/chair-words.ts';
import { farViewWords } from '../../words/far-view-words.ts';
import { partWords } from '../../words/part-words.ts';
import { runningLineWords } from '../../words/running-line-words.ts';
import { Button } from '../parts/Button.tsx';
import { readRemaining } from '../parts/clock-reading.ts';
import type { GaugeTimes } from '../parts/gauge-geometry.ts';
import { namingOf } from '../shared/arch-model.ts';
import { clockTimes } from '../shared/clock-times.ts';
import { useApp, useSession } from '../shared/session-context.ts';
import { farViewModel } from './far-view-model.ts';
import './running-line.css';

interface CountProps {
  readonly times: GaugeTimes;
  /** In the place of the clock's own words, as on the chair. */
  readonly words?: string | undefined;
}

function Count(o: CountProps) {
  const { figure, words, phase } = readRemaining(o.times);
  return (
    <span className="running-line-count" data-over={phase === 'over'}>
      <b>{figure}</b> {o.words ?? partWords.clock[words]}
    </span>
  );
}

/** The case that runs on while people look at another page: what is in hand, its count, and the way back. */
export function RunningLine() {
  const running = useApp((s) => s.running);
  const session = useSession();
  const caseId = running?.caseId ?? null;
  useEffect(() => {
    // Pages show what the lists say; they are not read while people are at the chair.
    if (caseId !== null) void session.refreshLists();
  }, [session, caseId]);
  return running === null ? null : <Line running={running} onStop={() => session.leaveCase()} />;
}

/** A drill is not left half done: it is ended, and told. */
function EndDrill({ caseId }: { readonly caseId: string }) {
  const session = useSession();
  const [, navigate] = useLocation();
  const end = async (): Promise<void> => {
    const drills = await session.drills().catch(() => null);
    const ended = await drills?.end();
    // What could not be ended is where it says so.
    navigate(ended?.ok === true ? `/drill/${caseId}` : '/chair');
  };
  return (
    <Button rank="quiet" onPress={() => void end()}>
      {runningLineWords.endDrill}
    </Button>
  );
}

function Line(o: { readonly running: RunningCase; readonly onStop: () => void }) {
  const { running, onStop } = o;
  const [, navigate] = useLocation();
  const { doing, subject, clock, watched } = farViewModel(running);
  const { chartRef, notation } = namingOf(running).spec;
  const { mode, drill } = running.log.state.opened;
  const isRehearsal = mode === 'rehearsal';
  const isDrill = drill !== undefined;
  return (
    <aside className="running-line lw-screen-only" aria-label={runningLineWords.place}>
      <button type="button" className="running-line-go" onClick={() => navigate('/chair')}>
        <span className="running-line-ref">{runningLineWords.toChair(chartRef)}</span>
        <span>{chairWords.numberings[notation]}</span>
        {isRehearsal && (
          <span className="running-line-mode">
            {isDrill ? runningLineWords.drill : farViewWords.rehearsal(running.speed)}
          </span>
        )}
        <strong>
          {doing} {subject}
        </strong>
        {clock !== null && <Count times={clockTimes(clock)} />}
        {watched.map((each) => (
          <span key={each.id} className="running-line-beside">
            {each.label} <Count times={each.times} words={each.words} />
          </span>
        ))}
      </button>
      {isDrill && !running.isViewOnly && <EndDrill caseId={running.caseId} />}
      {isRehearsal && !isDrill && !running.isViewOnly && (
        <Button rank="quiet" onPress={onStop}>
          {runningLineWords.stop}
        </Button>
      )}
    </aside>
  );
}
