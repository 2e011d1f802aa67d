import { useEffect } from 'react';
import { Link } from 'wouter';
import type { RunningCase } from '../../runtime/app-state.ts';
import { clockLabel, intervalReason } from '../../words/clock-words.ts';
import { glanceWords } from '../../words/glance-words.ts';
import { EmptyState } from '../parts/Banner.tsx';
import { ChairClock } from '../parts/ChairClock.tsx';
import { StateMark } from '../parts/StateMark.tsx';
import { WindowList } from '../parts/WindowList.tsx';
import { sceneOf } from '../shared/arch-model.ts';
import { clockTimes } from '../shared/clock-times.ts';
import { useApp, useSession } from '../shared/session-context.ts';
import { caseToFollow, glanceModel } from './glance-model.ts';
import './glance.css';

/** A window that does not write follows the newest open case by itself. */
function useFollow(): void {
  const session = useSession();
  const standing = useApp((s) => s.standing);
  const wanted = useApp((s) => caseToFollow(s.cases));
  const shown = useApp((s) => s.running?.caseId ?? null);
  useEffect(() => {
    if (standing !== 'reader' || wanted === null || wanted === shown) return;
    void session.resumeCase(wanted);
  }, [session, standing, wanted, shown]);
}

/** One number and one word, to be read from across the room. Takes no presses. */
export function Glance() {
  useFollow();
  const running = useApp((s) => s.running);
  if (running === null) {
    return (
      <main className="glance-empty" aria-label={glanceWords.place}>
        <EmptyState
          words={glanceWords.empty}
          advice={glanceWords.emptyTodo}
          action={<Link href="/">{glanceWords.toToday}</Link>}
        />
      </main>
    );
  }
  return <Live running={running} />;
}

function Live({ running }: { readonly running: RunningCase }) {
  const model = glanceModel(running);
  const { clock } = model;
  const scene = sceneOf(running);
  return (
    <main className="glance" aria-label={glanceWords.place} data-stale={running.isStale}>
      {running.isStale && (
        <div className="glance-stale" role="alert">
          <StateMark shape="broken" />
          <p>
            <strong>{glanceWords.stale}</strong> {glanceWords.staleTodo}
          </p>
        </div>
      )}
      <div className="glance-picture">
        <h1 className="glance-step">
          <span>{model.doing}</span>
          {model.subject !== undefined && (
            <>
              {' '}
              <span className="glance-subject">{model.subject}</span>
            </>
          )}
        </h1>
        {clock === null ? (
          <p className="glance-none">{glanceWords.noClock}</p>
        ) : (
          <ChairClock
            label={clockLabel(clock, scene)}
            reason={intervalReason(clock, running.log.state.gaps)}
            {...clockTimes(clock)}
          />
        )}
        <div className="glance-foot">
          {model.pressing !== null && <WindowList clocks={[model.pressing]} />}
          <p className="glance-case">
            {scene.spec.chartRef}
            {running.log.state.opened.mode === 'rehearsal' && (
              <strong>{glanceWords.rehearsal(running.speed)}</strong>
            )}
          </p>
        </div>
      </div>
    </main>
  );
}
