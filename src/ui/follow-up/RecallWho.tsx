import type { Visit } from '../../outcomes/follow-up-types.ts';
import type { FollowUpRow } from '../../runtime/follow-up/follow-up-state.ts';
import { recallVisitWords } from '../../words/follow-up-words.ts';
import { TextField } from '../parts/Field.tsx';
import { Section } from '../parts/Page.tsx';
import { PeopleChoices } from '../shared/PeopleChoices.tsx';
import type { VisitDraft } from './visit-draft.ts';

/** Who looked and when. Both are filled in, and can be changed. */
export function RecallWho(o: {
  readonly row: FollowUpRow;
  readonly draft: VisitDraft;
  readonly visit: Visit;
  readonly onChange: (next: VisitDraft) => void;
  readonly problems: ReadonlyMap<string, string>;
}) {
  const { draft, visit, onChange, problems } = o;
  return (
    <Section title={recallVisitWords.whoTitle}>
      <div className="recall-who">
        <TextField
          label={recallVisitWords.examiner}
          value={draft.examiner ?? visit.examiner}
          onChange={(examiner) => onChange({ ...draft, examiner })}
          problem={problems.get('visit.examiner')}
          readBack={visit.isOwnWork ? recallVisitWords.ownWork : undefined}
        />
        <TextField
          label={recallVisitWords.onDay}
          type="date"
          value={draft.onDay ?? visit.onDay}
          onChange={(onDay) => onChange({ ...draft, onDay })}
          problem={problems.get('visit.onDay')}
        />
      </div>
      <PeopleChoices
        named={[visit.examiner]}
        onChoose={({ name }) => onChange({ ...draft, examiner: name })}
      />
    </Section>
  );
}
