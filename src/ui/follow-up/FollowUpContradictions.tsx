import { Link } from 'wouter';
import type { FollowUpRow } from '../../runtime/follow-up/follow-up-state.ts';
import { followUpWords, unitFoundWords, unitLabel } from '../../words/follow-up-words.ts';
import { Section } from '../parts/Page.tsx';
import { useApp, useTimes } from '../shared/session-context.ts';

/** Visits of this case that cannot all be so, each with the way to its correction. */
export function FollowUpContradictions({ row }: { readonly row: FollowUpRow }) {
  const notation = useApp((s) => s.settings.notation);
  const { dateOf } = useTimes();
  const { contradictions, units, caseId } = row;
  if (contradictions.length === 0) return null;
  const label = (id: string): string => {
    const unit = units.find((each) => each.unit === id);
    return unit === undefined ? id : unitLabel(unit, notation);
  };
  const way = (visit: string): string => `/follow-up/${encodeURIComponent(caseId)}/visit/${visit}`;
  return (
    <Section title={followUpWords.contradictTitle} lede={followUpWords.contradictLede}>
      <ul className="follow-units">
        {contradictions.map(({ kind, unit, sights }) => (
          <li key={`${kind} ${unit} ${sights[0]?.kept.id ?? ''}`}>
            <p>{followUpWords.contradiction[kind](label(unit))}</p>
            <ul>
              {sights.map(({ kept: { id, visit }, found }) => (
                <li key={id}>
                  {followUpWords.foundOn({
                    on: dateOf(visit.onDay),
                    what: unitFoundWords(found, { notation, dayOf: dateOf }).join('. '),
                    done: followUpWords.looked(visit.examiner),
                  })}{' '}
                  <Link
                    className="lw-way"
                    href={way(id)}
                    aria-label={followUpWords.correctName(dateOf(visit.onDay))}
                  >
                    {followUpWords.correct}
                  </Link>
                </li>
              ))}
            </ul>
          </li>
        ))}
      </ul>
    </Section>
  );
}
