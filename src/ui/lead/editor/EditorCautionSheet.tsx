import { stepsOfCaution } from '../../../protocol/edit-uses.ts';
import { aroundWords } from '../../../words/around-words.ts';
import { EditorFormSheet } from './EditorFormSheet.tsx';
import type { SheetProps } from './EditorPart.tsx';
import { EditorStepChoices } from './EditorStepChoices.tsx';
import { EntryFields } from './EntryFields.tsx';
import { type Caution, type CautionForm, cautionEdits } from './editor-around-model.ts';
import { fieldsOf, useForm } from './editor-form.ts';
import { keptForms } from './editor-kept.ts';

const CAUTION_FORMS = keptForms<CautionForm>();

/** The words of a caution, and the steps it is said at. */
export function EditorCautionSheet(props: SheetProps<Caution>) {
  const { draft, open } = props;
  const { protocol } = draft;
  const { item, isNew } = open;
  const form = useForm(CAUTION_FORMS, {
    draft,
    part: 'cautions',
    id: item.id,
    fields: ['words', 'short'],
    first: () => ({
      words: item.words,
      short: item.short,
      steps: stepsOfCaution(protocol, item.id).map((step) => step.id),
    }),
    editsOf: (value) => cautionEdits(protocol, open, value),
    onClose: props.onClose,
  });
  const { value, set } = form;
  return (
    <EditorFormSheet title={isNew ? aroundWords.newCaution : aroundWords.caution} form={form}>
      <EntryFields part="cautions" keys={['words', 'short']} {...fieldsOf(form)} />
      <EditorStepChoices
        legend={aroundWords.saidAt}
        steps={protocol.steps}
        chosen={value.steps}
        onChange={(chosen) => set({ ...value, steps: chosen })}
      />
    </EditorFormSheet>
  );
}
