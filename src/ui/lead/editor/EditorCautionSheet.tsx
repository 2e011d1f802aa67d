import { stepsOfCaution } from '../../../protocol/edit-uses.ts';
import { aroundWords } from '../../../words/around-words.ts';
import { TextField } from '../../parts/Field.tsx';
import { Check } from '../../parts/Segmented.tsx';
import { EditorFormSheet } from './EditorFormSheet.tsx';
import {
  type Caution,
  type CautionForm,
  cautionEdits,
  type OpenEntry,
} from './editor-around-model.ts';
import { useForm } from './editor-form.ts';
import { keptForms } from './editor-kept.ts';
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
    fields: ['words'],
    first: () => ({
      words: item.words,
      steps: stepsOfCaution(protocol, item.id).map((step) => step.id),
    }),
    editsOf: (value) => cautionEdits(protocol, open, value),
    onClose: props.onClose,
  });
  const { value, set, problems } = form;
  const toggle = (step: string, isOn: boolean): void => {
    const others = value.steps.filter((other) => other !== step);
    set({ ...value, steps: isOn ? [...others, step] : others });
  };
  return (
    <EditorFormSheet
      title={isNew ? aroundWords.newCaution : aroundWords.caution}
      problems={problems}
      tries={form.tries}
      onApply={form.apply}
      onClose={form.close}
    >
      <TextField
        label={aroundWords.cautionWords}
        hint={aroundWords.cautionHint}
        lines={3}
        value={value.words}
        problem={problems.at('words')}
        onChange={(words) => set({ ...value, words })}
      />
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
