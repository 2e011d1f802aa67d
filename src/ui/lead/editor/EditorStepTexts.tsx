import { withField } from '../../../protocol/schema-fields.ts';
import type { Step } from '../../../protocol/types.ts';
import { EntryFields } from './EntryFields.tsx';
import type { Form } from './editor-form.ts';
import { withText } from './editor-step.ts';

/** What the bar says of a step: for all of its subjects, and for a part of them. */
export function StepTexts({ form }: { readonly form: Form<Step> }) {
  const { value: step, set, problems } = form;
  const { words = {}, some = {} } = step;
  return (
    <>
      <EntryFields
        part="barWords"
        keys={['start', 'end', 'leaves']}
        entry={words}
        set={(key, value) => set(withField(step, 'words', withText(words, key, value)))}
        problemAt={(key) => problems.at(`words.${key}`)}
      />
      <EntryFields
        part="someWords"
        keys={['start', 'end']}
        entry={some.words ?? {}}
        set={(key, value) => {
          const next = withText(some, 'words', withText(some.words, key, value));
          set(withField(step, 'some', next));
        }}
        problemAt={(key) => problems.at(`some.words.${key}`)}
      />
      <EntryFields
        part="some"
        keys={['instruction']}
        entry={some}
        set={(key, value) => set(withField(step, 'some', withText(some, key, value)))}
        problemAt={(key) => problems.at(`some.${key}`)}
      />
    </>
  );
}
