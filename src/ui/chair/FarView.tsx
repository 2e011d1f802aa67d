import { useEffect } from 'react';
import { Link } from 'wouter';
import type { Clock } from '../../engine/view-types.ts';
import type { RunningCase } from '../../runtime/app-state.ts';
import { chairWords } from '../../words/chair-words.ts';
import { clockLabel, intervalReason } from '../../words/clock-words.ts';
import { farViewWords } from '../../words/far-view-words.ts';
import { EmptyState } from '../parts/Banner.tsx';
import { ChairClock } from '../parts/ChairClock.tsx';
import { StateMark } from '../parts/StateMark.tsx';
import { WatchBlock } from '../parts/WatchBlock.tsx';
import { namingOf } from '../shared/arch-model.ts';
import { clockTimes } from '../shared/clock-times.ts';
import { EmergencyButton } from '../shared/EmergencyButton.tsx';
import { SharingSpot } from '../shared/SharingSpot.tsx';
import { useApp, useSession } from '../shared/session-context.ts';
import { caseToFollow } from '../shared/today-model.ts';
import { useWindowTitle } from '../shared/window-title.ts';
import { passAt } from './chair-model.ts';
import { FarChoice, FarSource, useFollowTablet } from './FarFollow.tsx';
import { farViewModel, type followModel } from './far-view-model.ts';
import './far-view.css';

/** A window that does not write follows by itself the case that runs on this tablet. */
function useFollow(): void {
  const session = useSession();
  const standing = useApp((s) => s.standing);
  const wanted = useApp((s) => caseToFollow(s.cases, s.liveCaseId));
  const shown = useApp((s) => s.running?.caseId ?? null);
  useEffect(() => {
    if (standing !== 'reader' || wanted === null || wanted === shown) return;
    void session.resumeCase(wanted);
  }, [session, standing, wanted, shown]);
}

/** One number and one word, to be read from across the room. Takes no presses. */
export function FarView() {
  useWindowTitle(farViewWords.place);
  useFollow();
  const follow = useFollowTablet();
  const isWriter = useApp((s) => s.standing === 'writer');
  const running = useApp((s) => s.running);
  if (running === null && isWriter && follow.tablets.length > 0) {
    return (
      <main className="far-view-empty" aria-label={farViewWords.place}>
        <EmergencyButton />
        <FarChoice {...follow} />
      </main>
    );
  }
  if (running === null) {
    return (
      <main className="far-view-empty" aria-label={farViewWords.place}>
        <EmergencyButton />
        <SharingSpot />
        <EmptyState
          words={farViewWords.empty}
          advice={farViewWords.emptyTodo}
          action={
            <Link className="lw-way" href="/">
              {farViewWords.toToday}
            </Link>
          }
        />
      </main>
    );
  }
  const from = isWriter && running.isViewOnly ? follow.chosen : null;
  return <Live running={running} from={from} />;
}

/** The time of a step itself, as against what runs between steps. */
const isOfStep = ({ kind }: Clock): boolean => kind === 'dwell' || kind === 'exposure';

function Live(o: {
  readonly running: RunningCase;
  /** The tablet that it runs on, where that is another one. */
  readonly from: ReturnType<typeof followModel>['chosen'];
}) {
  const { running, from } = o;
  const model = farViewModel(running);
  const { clock } = model;
  const naming = namingOf(running);
  const isUntimed =
    clock === null && model.watched.length === 0 && !running.view.clocks.some(isOfStep);
  const watched = model.watched.map((each) => <WatchBlock key={each.id} clock={each} />);
  return (
    <main className="far-view" aria-label={farViewWords.place} data-stale={running.isStale}>
      {running.isStale && (
        <div className="far-view-stale" role="alert">
          <StateMark shape="broken" />
          <p>
            <strong>{farViewWords.stale}</strong>{' '}
            {from === null ? farViewWords.staleTodo : farViewWords.farStaleTodo(from.name)}
          </p>
        </div>
      )}
      <div className="far-view-picture">
        <h1 className="far-view-step">
          <span>{model.doing}</span>
          {model.subject !== undefined && (
            <>
              {' '}
              <span className="far-view-subject">{model.subject}</span>
            </>
          )}
        </h1>
        {isUntimed && <p className="far-view-none">{farViewWords.noClock}</p>}
        {clock === null && model.watched.length > 0 && (
          <div className="far-view-watched">{watched}</div>
        )}
        {clock !== null && (
          <ChairClock
            label={clockLabel(clock, naming)}
            words={passAt(running)}
            reason={intervalReason(clock, running.log.state.gaps)}
            {...clockTimes(clock)}
          />
        )}
        <div className="far-view-foot">
          {clock !== null && watched}
          <EmergencyButton />
          <SharingSpot />
          <p className="far-view-case">
            {naming.spec.chartRef}
            <span>{chairWords.numberings[naming.spec.notation]}</span>
            {running.log.state.opened.mode === 'rehearsal' && (
              <strong>{farViewWords.rehearsal(running.speed)}</strong>
            )}
            {from !== null && <FarSource chosen={from} />}
          </p>
        </div>
      </div>
    </main>
  );
}
