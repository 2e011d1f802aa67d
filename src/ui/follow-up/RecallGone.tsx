import type { FollowUpRow } from '../../runtime/follow-up/follow-up-state.ts';
import {
  followUpWords,
  recallVisitWords,
  sightWords,
  unitLabel,
} from '../../words/follow-up-words.ts';
import { Button } from '../parts/Button.tsx';
import { Section } from '../parts/Page.tsx';
import { useApp, useTimes } from '../shared/session-context.ts';
import { changeUnit, lastSight, type VisitDraft } from './visit-draft.ts';

/** Units that were gone before: they are not asked for, and can be noted all the same. */
export function RecallGone(o: {
  readonly row: FollowUpRow;
  readonly draft: VisitDraft;
  readonly isCorrection: boolean;
  readonly onChange: (next: VisitDraft) => void;
}) {
  const { row, draft, onChange, isCorrection } = o;
  const notation = useApp((s) => s.settings.notation);
  const { dateOf } = useTimes();
  const gone = row.units.filter(({ unit }) =>
    draft.units.some((each) => each.unit === unit && each.isLeftOut),
  );
  if (gone.length === 0) return null;
  const { goneTitle, notPartTitle } = recallVisitWords;
  return (
    <Section title={isCorrection ? notPartTitle : goneTitle}>
      <ul className="recall-gone">
        {gone.map((unit) => {
          const label = unitLabel(unit, notation);
          const last = lastSight(row.followUp, unit.unit);
          const what =
            last === null ? followUpWords.nothingFound : sightWords(last.found, dateOf(last.onDay));
          return (
            <li key={unit.unit}>
              <span>{recallVisitWords.goneLine({ unit: label, what })}</span>
              <Button
                name={recallVisitWords.noteGoneName(label)}
                onPress={() =>
                  onChange(changeUnit(draft, { unit: unit.unit, change: { isLeftOut: false } }))
                }
              >
                {recallVisitWords.noteGone}
              </Button>
            </li>
          );
        })}
      </ul>
    </Section>
  );
}
