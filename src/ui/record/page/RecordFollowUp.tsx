import { Link, useLocation } from 'wouter';
import { followUpWords, recallName, recallStanding } from '../../../words/follow-up-words.ts';
import { Button } from '../../parts/Button.tsx';
import { useTimes } from '../../shared/session-context.ts';
import { useFollowUps } from '../../shared/use-follow-ups.ts';

/** Leads from the record of a bonding to what became of it. The record itself says nothing of that. */
export function RecordFollowUp({ caseId }: { readonly caseId: string }) {
  const [, navigate] = useLocation();
  const { dateOf } = useTimes();
  const { state } = useFollowUps();
  const row = state.list.find((each) => each.caseId === caseId);
  if (row === undefined) return null;
  const { lastSeen, recalls } = row;
  const recall = recalls.due ?? recalls.next;
  return (
    <>
      <Button onPress={() => navigate(`/follow-up/${encodeURIComponent(caseId)}/visit`)}>
        {followUpWords.visitDo}
      </Button>
      <Link className="lw-way" href={`/follow-up/${encodeURIComponent(caseId)}`}>
        {followUpWords.toCase}
      </Link>
      <span className="lw-quiet">
        {lastSeen === null ? followUpWords.neverSeen : followUpWords.lastSeen(dateOf(lastSeen))}
      </span>
      {recall !== null && (
        <span className="lw-quiet">
          {followUpWords.recallLine({
            recall: recallName(recall),
            standing: recallStanding(recall, dateOf),
          })}
        </span>
      )}
    </>
  );
}
