import { setUpWords } from '../../words/set-up-words.ts';
import { toothLabel, toothName } from '../../words/subject-words.ts';
import { ArchPicker } from '../parts/ArchPicker.tsx';
import { Section } from '../parts/Page.tsx';
import { Segmented } from '../parts/Segmented.tsx';
import { choicesOf, NOTATIONS } from '../shared/choices.ts';
import type { DraftPartProps } from './set-up-drafts.ts';
import { teethInOrder, toggleTooth } from './set-up-units.ts';

/** All teeth as seen from the front; a press takes one in or out. */
export function SetUpTeeth({ draft, change, problemAt }: DraftPartProps) {
  const problem = problemAt('case.units');
  return (
    <Section title={setUpWords.teeth} lede={setUpWords.teethLede}>
      <ArchPicker
        label={setUpWords.teethPicture}
        selected={draft.units.flatMap((u) => u.teeth)}
        pontics={draft.units.flatMap((u) => u.pontics)}
        joined={draft.units.map(teethInOrder)}
        onToggle={(tooth) => change(toggleTooth(draft, tooth))}
        labelOf={(tooth) => toothLabel(tooth, draft.notation)}
        nameOf={toothName}
      />
      {problem !== undefined && (
        <p className="lw-field-problem" role="alert">
          {problem}
        </p>
      )}
      <Segmented
        label={setUpWords.notation}
        value={draft.notation}
        options={choicesOf(NOTATIONS, setUpWords.notations)}
        onChange={(notation) => change({ ...draft, notation })}
      />
    </Section>
  );
}
