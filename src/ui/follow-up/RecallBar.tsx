import type { Visit } from '../../outcomes/follow-up-types.ts';
import { isSeen } from '../../outcomes/found.ts';
import { recallVisitWords } from '../../words/follow-up-words.ts';
import { Button } from '../parts/Button.tsx';
import { useTimes } from '../shared/session-context.ts';
import type { VisitDraft } from './visit-draft.ts';

/** What stands in the form, counted in words. */
function summaryOf({ units }: Visit): string {
  const open = units.filter(({ findings }) => findings.length === 0).length;
  const told = units.filter(({ findings }) => findings.length > 0);
  const inPlace = told.filter(({ findings }) => findings[0] === 'in-place').length;
  const unseen = told.filter((unit) => !isSeen(unit)).length;
  const found = told.length - inPlace - unseen;
  return recallVisitWords.summary({
    found: [
      ...(inPlace > 0 ? [recallVisitWords.inPlace(inPlace)] : []),
      ...(found > 0 ? [recallVisitWords.withFindings(found)] : []),
      ...(unseen > 0 ? [recallVisitWords.notSeen(unseen)] : []),
    ],
    open,
  });
}

/** Says what pressing notes. */
export function RecallBar(o: {
  readonly draft: VisitDraft;
  readonly visit: Visit;
  readonly isNoting: boolean;
  readonly isCorrection: boolean;
}) {
  const { visit, isNoting, isCorrection } = o;
  const { dateOf } = useTimes();
  const words = isCorrection ? recallVisitWords.noteCorrected : recallVisitWords.note;
  return (
    <div className="recall-bar">
      <p>
        <strong>{summaryOf(visit)}</strong>
        <span>{recallVisitWords.whoAndWhen({ who: visit.examiner, on: dateOf(visit.onDay) })}</span>
      </p>
      <Button type="submit" rank="main" size="chair" disabled={isNoting}>
        {isNoting ? recallVisitWords.noting : words}
      </Button>
    </div>
  );
}
