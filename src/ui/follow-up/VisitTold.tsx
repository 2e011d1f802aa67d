import { Link } from 'wouter';
import type { KeptVisit, Visit } from '../../outcomes/follow-up-types.ts';
import { isSeen } from '../../outcomes/found.ts';
import type { FollowUpRow } from '../../runtime/follow-up/follow-up-state.ts';
import { followUpWords, unitFoundWords, unitLabel } from '../../words/follow-up-words.ts';
import { Button } from '../parts/Button.tsx';
import { Disclosure } from '../parts/Facts.tsx';
import { useApp, useTimes } from '../shared/session-context.ts';

/** What a visit says: who looked, and what was found of each unit. */
export function VisitLines({ visit, row }: { readonly visit: Visit; readonly row: FollowUpRow }) {
  const notation = useApp((s) => s.settings.notation);
  const { dateOf } = useTimes();
  const { examiner, isOwnWork } = visit;
  const isSeenAtAll = visit.units.some(isSeen);
  return (
    <>
      <p className="lw-quiet">
        {!isSeenAtAll && followUpWords.notedUnseen(examiner)}
        {isSeenAtAll &&
          (isOwnWork ? followUpWords.lookedOwn(examiner) : followUpWords.looked(examiner))}
      </p>
      <ul className="follow-found">
        {visit.units.map((found) => {
          const unit = row.units.find((each) => each.unit === found.unit);
          return (
            <li key={found.unit}>
              <span>{unit === undefined ? found.unit : unitLabel(unit, notation)}</span>
              <span>
                {unitFoundWords(found, { notation, dayOf: dateOf }).map((words) => (
                  <span key={words}>{words}</span>
                ))}
              </span>
            </li>
          );
        })}
      </ul>
      {visit.note !== undefined && <p>{visit.note}</p>}
    </>
  );
}

/** One visit, with what it replaced. */
export function VisitTold(o: {
  readonly kept: KeptVisit;
  readonly row: FollowUpRow;
  /** Absent while two tablets tell it differently: that is settled first. */
  readonly onStrike: (() => void) | undefined;
}) {
  const { kept, row, onStrike } = o;
  const { dateOf } = useTimes();
  const on = dateOf(kept.visit.onDay);
  const way = `/follow-up/${encodeURIComponent(row.caseId)}/visit/${kept.id}`;
  return (
    <li>
      <div className="follow-visit-head">
        <h3>{followUpWords.visitOn(on)}</h3>
        {onStrike !== undefined && (
          <div className="follow-deeds">
            <Link className="lw-way" href={way} aria-label={followUpWords.correctName(on)}>
              {followUpWords.correct}
            </Link>
            <Button rank="quiet" name={followUpWords.strikeName(on)} onPress={onStrike}>
              {followUpWords.strike}
            </Button>
          </div>
        )}
      </div>
      <VisitLines visit={kept.visit} row={row} />
      {kept.was.length > 0 && (
        <Disclosure summary={followUpWords.was}>
          <ul className="follow-visits">
            {kept.was.map(({ id, visit, reason }) => (
              <li key={id}>
                <p>
                  <s>{followUpWords.visitOn(dateOf(visit.onDay))}</s>{' '}
                  {followUpWords.replaced(reason)}
                </p>
                <VisitLines visit={visit} row={row} />
              </li>
            ))}
          </ul>
        </Disclosure>
      )}
    </li>
  );
}
