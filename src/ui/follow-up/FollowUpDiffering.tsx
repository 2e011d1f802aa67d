import { useState } from 'react';
import type { DifferingVisit, VisitSide } from '../../outcomes/follow-up-types.ts';
import type { FollowUpRow } from '../../runtime/follow-up/follow-up-state.ts';
import { followUpWords } from '../../words/follow-up-words.ts';
import { Button } from '../parts/Button.tsx';
import { Section } from '../parts/Page.tsx';
import { useApp, useTimes } from '../shared/session-context.ts';
import { ReasonSheet } from './ReasonSheet.tsx';
import type { FollowUpDeeds } from './use-follow-up-deeds.ts';
import { VisitLines } from './VisitTold.tsx';

/** Enough of an id to tell two tablets apart. */
const ID_LENGTH = 8;

/** A visit that two tablets tell differently, side by side; somebody says which holds. */
export function FollowUpDiffering(o: {
  readonly differing: DifferingVisit;
  readonly row: FollowUpRow;
  readonly who: string;
  readonly deeds: FollowUpDeeds;
}) {
  const { differing, row, who, deeds } = o;
  const own = useApp((s) => s.settings.tablet);
  const { dateOf } = useTimes();
  const [taken, setTaken] = useState<VisitSide | null>(null);
  const tabletOf = ({ tablet }: VisitSide): string =>
    tablet === own
      ? followUpWords.thisTablet
      : followUpWords.otherTablet(tablet.slice(0, ID_LENGTH));
  return (
    <Section title={followUpWords.differTitle} lede={followUpWords.differLede}>
      <ul className="follow-sides">
        {differing.sides.map((side) => (
          <li key={side.id}>
            <h3>{followUpWords.side({ tablet: tabletOf(side), by: side.by ?? '' })}</h3>
            {side.visit === null ? (
              <p>{followUpWords.sideStruck}</p>
            ) : (
              <>
                <p>{followUpWords.visitOn(dateOf(side.visit.onDay))}</p>
                <VisitLines visit={side.visit} row={row} />
              </>
            )}
            {side.reason !== '' && (
              <p className="lw-quiet">
                {side.visit === null
                  ? followUpWords.struck(side.reason)
                  : followUpWords.replaced(side.reason)}
              </p>
            )}
            <Button
              name={followUpWords.takeSideName(tabletOf(side))}
              onPress={() => setTaken(side)}
            >
              {followUpWords.takeSide}
            </Button>
          </li>
        ))}
      </ul>
      {taken !== null && (
        <ReasonSheet
          title={followUpWords.takeSide}
          note={followUpWords.sideNote}
          who={who}
          onDo={(said) => deeds.takeSide({ side: taken, ...said })}
          onClose={() => setTaken(null)}
        />
      )}
    </Section>
  );
}
