import { Link } from 'wouter';
import { conflictWords } from '../../../words/conflict-words.ts';
import { followUpWords, unitFoundWords } from '../../../words/follow-up-words.ts';
import { questionTold } from '../../../words/outcome-words.ts';
import { useApp, useTimes } from '../../shared/session-context.ts';
import { type ConflictOf, Sides } from './ConflictSides.tsx';

function ToFollowUp({ caseId }: { readonly caseId: string }) {
  return (
    <p>
      <Link className="lw-way" href={`/follow-up/${encodeURIComponent(caseId)}`}>
        {conflictWords.toFollowUp}
      </Link>
    </p>
  );
}

export function VisitSides({ conflict }: { readonly conflict: ConflictOf<'visit'> }) {
  const { dateOf } = useTimes();
  return (
    <Sides
      kind="visit"
      title={conflict.title}
      sides={conflict.sides.map((side) => ({
        ...side,
        shown: (
          <p>
            {side.onDay === null
              ? conflictWords.visitStruck(side.reason)
              : conflictWords.visitSide({ on: dateOf(side.onDay), units: side.units })}
          </p>
        ),
      }))}
    >
      <p>{conflictWords.visitTodo}</p>
      <ToFollowUp caseId={conflict.id} />
    </Sides>
  );
}

export function VisitsSides({ conflict }: { readonly conflict: ConflictOf<'visits'> }) {
  const { dateOf } = useTimes();
  const notation = useApp((s) => s.settings.notation);
  const { unit } = conflict;
  return (
    <Sides
      kind="visits"
      title={conflictWords.visitsTitle({ title: conflict.title, unit })}
      sides={conflict.sides.map((side) => ({
        ...side,
        shown: (
          <p>
            {followUpWords.foundOn({
              on: dateOf(side.onDay),
              what: unitFoundWords(side.found, { notation, dayOf: dateOf }).join('. '),
            })}
          </p>
        ),
      }))}
    >
      <p>{followUpWords.contradiction[conflict.of](unit)}</p>
      <p>{conflictWords.visitsTodo}</p>
      <ToFollowUp caseId={conflict.id} />
    </Sides>
  );
}

export function QuestionSides({ conflict }: { readonly conflict: ConflictOf<'question'> }) {
  const { dateOf } = useTimes();
  return (
    <Sides
      kind="question"
      title={conflictWords.questionTitle}
      sides={conflict.sides.map((side) => ({
        ...side,
        shown: <p>{questionTold(side.question, { dateOf, titleOf: limitName })}</p>,
      }))}
    >
      <p>{conflictWords.questionTodo}</p>
      <p>
        <Link className="lw-way" href="/outcomes/reviews">
          {conflictWords.toQuestion}
        </Link>
      </p>
    </Sides>
  );
}

/** Titles of limits stand in the records of cases, which are not read for this page. */
const limitName = (limit: string): string => limit.replace(/^(window|step)\//, '');
