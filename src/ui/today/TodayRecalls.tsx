import type { ReactNode } from 'react';
import { Link } from 'wouter';
import type { FollowUpRow, FollowUpsState } from '../../runtime/follow-up/follow-up-state.ts';
import { followUpWords, recallName, recallStanding } from '../../words/follow-up-words.ts';
import { Section } from '../parts/Page.tsx';
import { StateMark } from '../parts/StateMark.tsx';
import { useIsRunning, useTimes } from '../shared/session-context.ts';
import { useFollowUps } from '../shared/use-follow-ups.ts';
import './today-recalls.css';

/** The first screen is for today; all recalls have a page of their own. */
const SHOWN_MAX = 5;

/**
 * Recalls that are due, and what stands below them: it comes together with them, so that nothing moves
 * under a finger. Whoever runs a case has other things to read.
 */
export function TodayRecalls({ children }: { readonly children: ReactNode }) {
  const isRunning = useIsRunning();
  return isRunning ? children : <Read>{children}</Read>;
}

/** Lives of deleted cases lead to nobody. */
const dueOf = ({ due }: FollowUpsState): readonly FollowUpRow[] =>
  due.filter(({ origin }) => origin !== 'left');

function Read({ children }: { readonly children: ReactNode }) {
  const { phase, state } = useFollowUps();
  if (phase === 'reading') return null;
  const due = dueOf(state);
  return (
    <>
      {due.length > 0 && <Due due={due} />}
      {children}
    </>
  );
}

function countOf(due: readonly FollowUpRow[]) {
  const overdue = due.filter((row) => row.due?.state === 'overdue').length;
  return { overdue, due: due.length - overdue };
}

/** How many there are, where the list itself stands further down. */
export function RecallsCount() {
  const { state } = useFollowUps();
  const due = dueOf(state);
  if (due.length === 0) return null;
  const count = countOf(due);
  return (
    <>
      <StateMark shape={count.overdue > 0 ? 'spilled' : 'target'} />
      <Link className="lw-way" href="/follow-up">
        {followUpWords.todayLine(count)}
      </Link>
    </>
  );
}

function Due({ due }: { readonly due: readonly FollowUpRow[] }) {
  return (
    <Section title={followUpWords.todayTitle} lede={followUpWords.todayCount(countOf(due))}>
      <ul className="today-recalls">
        {due.slice(0, SHOWN_MAX).map((row) => (
          <Line key={row.caseId} row={row} />
        ))}
      </ul>
      <Link className="lw-way" href="/follow-up">
        {followUpWords.toList}
      </Link>
    </Section>
  );
}

/** One press opens the visit. */
function Line({ row }: { readonly row: FollowUpRow }) {
  const { dateOf } = useTimes();
  const { caseId, patient, title, due } = row;
  if (due === null) return null;
  const isLate = due.state === 'overdue';
  return (
    <li data-late={isLate}>
      <Link
        href={`/follow-up/${encodeURIComponent(caseId)}/visit`}
        aria-label={followUpWords.todayName({
          visit: followUpWords.visitName({ ref: patient, title }),
          standing: recallStanding(due, dateOf),
        })}
      >
        <StateMark shape={isLate ? 'spilled' : 'target'} />
        <span>
          <strong>{patient}</strong> <span className="today-recall-title">{title}</span>
        </span>
        <span>{followUpWords.dueOn({ recall: recallName(due), on: dateOf(due.dueOn) })}</span>
        <span className="today-recall-standing">{recallStanding(due, dateOf)}</span>
      </Link>
    </li>
  );
}
