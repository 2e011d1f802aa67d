import { familyWords } from '../../../words/family-words.ts';
import { materialOptions, restorationOptions } from '../../../words/material-words.ts';
import { Button } from '../../parts/Button.tsx';
import { TextField } from '../../parts/Field.tsx';
import { MultiSegmented } from '../../parts/Segmented.tsx';
import { EditorFormSheet } from './EditorFormSheet.tsx';
import { EntryFields, FieldProblem } from './EntryFields.tsx';
import { fieldsOf, useForm } from './editor-form.ts';
import { type HeadForm, headEdits, headForm } from './editor-head-model.ts';
import { keptForms } from './editor-kept.ts';
import type { OpenDraft } from './open-draft.ts';

const HEAD_FORMS = keptForms<HeadForm>();
const TEXTS = ['title', 'summary'] as const;

/** The title and summary of a protocol, and what it is written for. */
export function EditorHeadSheet(props: {
  readonly draft: OpenDraft;
  readonly onClose: () => void;
}) {
  const { draft } = props;
  const form = useForm(HEAD_FORMS, {
    draft,
    part: 'protocol',
    id: '',
    fields: [...TEXTS, 'restorations', 'materials'],
    first: () => headForm(draft.protocol),
    editsOf: (value) => headEdits(draft.protocol, value),
    onClose: props.onClose,
  });
  const { value, set, problems } = form;
  const words = familyWords.head;
  return (
    <EditorFormSheet title={words.about} form={form}>
      <EntryFields part="protocol" keys={TEXTS} {...fieldsOf(form)} />
      <Classes
        label={words.restorations}
        otherLabel={words.otherRestoration}
        known={restorationOptions('')}
        chosen={value.restorations}
        other={value.otherRestoration}
        problem={problems.at('restorations')}
        onChange={(restorations, otherRestoration) =>
          set({ ...value, restorations, otherRestoration })
        }
      />
      <Classes
        label={words.materials}
        otherLabel={words.otherMaterial}
        hint={words.materialsHint}
        known={materialOptions('')}
        chosen={value.materials}
        other={value.otherMaterial}
        problem={problems.at('materials')}
        onChange={(materials, otherMaterial) => set({ ...value, materials, otherMaterial })}
      />
    </EditorFormSheet>
  );
}

/** Classes of which several may be chosen; one that the app does not know can be written. */
function Classes(props: {
  readonly label: string;
  readonly otherLabel: string;
  readonly hint?: string;
  readonly known: readonly { readonly value: string; readonly label: string }[];
  readonly chosen: readonly string[];
  readonly other: string;
  readonly problem: string | undefined;
  readonly onChange: (chosen: readonly string[], other: string) => void;
}) {
  const { known, chosen, other, onChange } = props;
  const written = chosen.filter((value) => known.every((option) => option.value !== value));
  const options = [...known, ...written.map((value) => ({ value, label: value }))];
  const typed = other.trim();
  const toggle = (value: string): void => {
    const others = chosen.filter((each) => each !== value);
    onChange(others.length < chosen.length ? others : [...others, value], other);
  };
  return (
    <div className="editor-classes">
      <MultiSegmented label={props.label} values={chosen} options={options} onToggle={toggle} />
      <FieldProblem words={props.problem} />
      <div className="editor-condition-head">
        <TextField
          label={props.otherLabel}
          hint={props.hint}
          value={other}
          onChange={(next) => onChange(chosen, next)}
        />
        <Button
          disabled={typed === '' || chosen.includes(typed)}
          name={familyWords.head.addName(props.otherLabel)}
          onPress={() => onChange([...chosen, typed], '')}
        >
          {familyWords.head.add}
        </Button>
      </div>
    </div>
  );
}
