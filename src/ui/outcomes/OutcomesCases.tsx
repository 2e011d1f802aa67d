import { Link } from 'wouter';
import type { CaseOf } from '../../outcomes/model/outcomes-types.ts';
import { originOf } from '../../outcomes/origin.ts';
import { outcomeWords } from '../../words/outcome-words.ts';
import { toothLabel } from '../../words/subject-words.ts';
import { useApp, useTimes } from '../shared/session-context.ts';

/** Cases, each with the way to the windows of its record and to its visits. */
export function OutcomesCases(o: {
  readonly cases: readonly CaseOf[];
  readonly isExample: boolean;
}) {
  if (o.cases.length === 0) return <p>{outcomeWords.noCases}</p>;
  return (
    <ul className="outcomes-cases">
      {o.cases.map((one) => (
        <Case key={one.life} one={one} isExample={o.isExample} />
      ))}
    </ul>
  );
}

function Case({ one, isExample }: { readonly one: CaseOf; readonly isExample: boolean }) {
  const times = useTimes();
  const notation = useApp((s) => s.settings.notation);
  const line = outcomeWords.caseLine({
    patient: one.patient,
    teeth: one.teeth.map((tooth) => toothLabel(tooth, notation)),
    bonded: times.dateOf(one.bondedOn),
    failed: times.dateOf(one.failedOn),
    isStated: one.isStated,
  });
  const origin = originOf(one.caseId);
  return (
    <li>
      <span>
        {line}
        <span className="lw-quiet"> {isExample ? outcomeWords.inventedRow : one.title}</span>
      </span>
      {!isExample && (
        <span className="outcomes-ways">
          {origin === 'earlier' && <span className="lw-aside">{outcomeWords.caseNoRecord}</span>}
          {origin === 'left' && <span className="lw-aside">{outcomeWords.caseDeleted}</span>}
          {origin === 'case' && (
            <Link
              className="lw-way"
              href={`/record/${one.caseId}#windows`}
              aria-label={outcomeWords.caseWindowsName(line)}
            >
              {outcomeWords.caseWindows}
            </Link>
          )}
          <Link
            className="lw-way"
            href={`/follow-up/${one.caseId}`}
            aria-label={outcomeWords.caseFollowUpName(line)}
          >
            {outcomeWords.caseFollowUp}
          </Link>
        </span>
      )}
    </li>
  );
}
