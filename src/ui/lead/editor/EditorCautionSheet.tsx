import { stepsOfCaution } from '../../../protocol/edit-uses.ts';
import { aroundWords } from '../../../words/around-words.ts';
import { Check } from '../../parts/Segmented.tsx';
import { EditorFormSheet } from './EditorFormSheet.tsx';
import { EntryFields } from './EntryFields.tsx';
import { type Caution, type CautionForm, cautionEdits } from './editor-around-model.ts';
import { fieldsOf, useForm } from './editor-form.ts';
import { keptForms } from './editor-kept.ts';
import type { OpenEntry } from './editor-new.ts';
import type { OpenDraft } from './open-draft.ts';

const CAUTION_FORMS = keptForms<CautionForm>();

/** The words of a caution, and the steps it is said at. */
export function EditorCautionSheet(props: {
  readonly draft: OpenDraft;
  readonly open: OpenEntry<Caution>;
  readonly onClose: () => void;
}) {
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
  const toggle = (step: string, isOn: boolean): void => {
    const others = value.steps.filter((other) => other !== step);
    set({ ...value, steps: isOn ? [...others, step] : others });
  };
  return (
    <EditorFormSheet title={isNew ? aroundWords.newCaution : aroundWords.caution} form={form}>
      <EntryFields part="cautions" keys={['words', 'short']} {...fieldsOf(form)} />
      <fieldset className="editor-choices">
        <legend>{aroundWords.saidAt}</legend>
        {protocol.steps.map(({ id, title }) => (
          <Check
            key={id}
            label={title}
            checked={value.steps.includes(id)}
            onChange={(isOn) => toggle(id, isOn)}
          />
        ))}
      </fieldset>
    </EditorFormSheet>
  );
}
