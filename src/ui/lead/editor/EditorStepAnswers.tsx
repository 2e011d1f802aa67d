import type { ReactNode } from 'react';
import { freeId } from '../../../protocol/edit.ts';
import { editorWords } from '../../../words/editor-words.ts';
import { stepFormWords } from '../../../words/step-form-words.ts';
import { Button } from '../../parts/Button.tsx';
import { TextField } from '../../parts/Field.tsx';
import type { FormProblems } from './editor-form-problems.ts';

interface Answer {
  readonly id: string;
  readonly label: string;
}

/** The answers of which one is chosen. At least one stays. */
export function EditorStepAnswers<T extends Answer>(o: {
  readonly options: readonly T[];
  /** Where the options stand inside the step. */
  readonly place: string;
  readonly problems: FormProblems;
  readonly onChange: (options: readonly (T | Answer)[]) => void;
  /** What else is asked of each. */
  readonly more?: (option: T, set: (option: T) => void) => ReactNode;
}) {
  const { options, onChange } = o;
  const set = (next: T): void =>
    onChange(options.map((option) => (option.id === next.id ? next : option)));
  return (
    <fieldset className="editor-waits">
      <legend>{stepFormWords.answers}</legend>
      {options.map((option, index) => (
        <div className="editor-one" key={option.id}>
          <div className="editor-answer">
            <TextField
              label={stepFormWords.answer(index + 1)}
              value={option.label}
              problem={o.problems.at(`${o.place}.options[${index}].label`)}
              onChange={(label) => set({ ...option, label })}
            />
            <Button
              rank="quiet"
              name={editorWords.named.remove(option.label)}
              disabled={options.length === 1}
              onPress={() => onChange(options.filter(({ id }) => id !== option.id))}
            >
              {editorWords.remove}
            </Button>
          </div>
          {o.more?.(option, set)}
        </div>
      ))}
      <Button
        onPress={() => onChange([...options, { id: freeId(options, 'new-answer'), label: '' }])}
      >
        {stepFormWords.addAnswer}
      </Button>
    </fieldset>
  );
}
