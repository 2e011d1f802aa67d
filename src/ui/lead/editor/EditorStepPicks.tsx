import type { Step } from '../../../protocol/types.ts';
import { editorWords } from '../../../words/editor-words.ts';
import { stepFormWords } from '../../../words/step-form-words.ts';
import { Button } from '../../parts/Button.tsx';
import { SelectField } from '../../parts/Field.tsx';
import { nameOfStep, stepChoices } from './editor-step-names.ts';

/** A few steps of many, in the order in which they were picked. */
export function EditorStepPicks(o: {
  readonly legend: string;
  readonly steps: readonly Step[];
  /** Step ids. */
  readonly chosen: readonly string[];
  readonly onChange: (chosen: readonly string[]) => void;
}) {
  const { legend, steps, chosen } = o;
  const left = steps.filter(({ id }) => !chosen.includes(id));
  return (
    <fieldset className="editor-waits">
      <legend>{legend}</legend>
      {chosen.length > 0 && (
        <ul className="editor-picks">
          {chosen.map((id) => (
            <li key={id}>
              {nameOfStep(steps, id)}
              <Button
                rank="quiet"
                name={editorWords.named.remove(nameOfStep(steps, id))}
                onPress={() => o.onChange(chosen.filter((other) => other !== id))}
              >
                {editorWords.remove}
              </Button>
            </li>
          ))}
        </ul>
      )}
      <SelectField
        label={stepFormWords.addPick}
        value=""
        options={[{ value: '', label: stepFormWords.choosePick }, ...stepChoices(steps, left)]}
        onChange={(id) => id !== '' && o.onChange([...chosen, id])}
      />
    </fieldset>
  );
}
