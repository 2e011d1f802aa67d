import { useState } from 'react';
import { withField } from '../../../protocol/schema-fields.ts';
import type { ProtocolChoice } from '../../../protocol/types.ts';
import { editorWords } from '../../../words/editor-words.ts';
import { familyWords } from '../../../words/family-words.ts';
import { Button } from '../../parts/Button.tsx';
import { SelectField } from '../../parts/Field.tsx';
import { EditorFormSheet } from './EditorFormSheet.tsx';
import type { SheetProps } from './EditorPart.tsx';
import { EntryFields, FieldProblem } from './EntryFields.tsx';
import { type Form, fieldsOf, useForm } from './editor-form.ts';
import { type ChoiceForm, choiceEdits, choiceForm, choiceUses } from './editor-head-model.ts';
import { keptForms } from './editor-kept.ts';
import { movedTo } from './editor-moves.ts';

const CHOICE_FORMS = keptForms<ChoiceForm>();
const OPTIONS_MIN = 2;

/** What is asked at set-up, what can be answered, and which answer holds by itself. */
export function EditorChoiceSheet({ draft, open, onClose }: SheetProps<ProtocolChoice>) {
  const { item, isNew } = open;
  const form = useForm(CHOICE_FORMS, {
    draft,
    part: 'choices',
    id: item.id,
    fields: ['title', 'why', 'options', 'default'],
    first: () => choiceForm(item),
    editsOf: (value) => choiceEdits(draft.protocol, open, value),
    onClose,
  });
  const { value, set, problems } = form;
  const words = familyWords.choices;
  return (
    <EditorFormSheet title={isNew ? words.newOne : words.sheet(item.title)} form={form}>
      <EntryFields part="choices" keys={['title', 'why']} {...fieldsOf(form)} />
      <Options draft={draft} open={open} form={form} />
      <SelectField
        label={words.standing}
        hint={words.standingHint}
        value={String(value.chosen)}
        options={value.options.map(({ label }, index) => ({
          value: String(index),
          label: label.trim() === '' ? words.option(index + 1) : label,
        }))}
        problem={problems.at('default')}
        onChange={(chosen) => set({ ...value, chosen: Number(chosen) })}
      />
    </EditorFormSheet>
  );
}

function Options(
  props: Omit<SheetProps<ProtocolChoice>, 'onClose'> & { readonly form: Form<ChoiceForm> },
) {
  const { draft, open, form } = props;
  const { value, set, problems } = form;
  const { options } = value;
  const words = familyWords.choices;
  return (
    <fieldset className="editor-waits">
      <legend>{words.options}</legend>
      {options.map((option, index) => (
        <Option
          // New options have no id yet: only the place tells them apart.
          // biome-ignore lint/suspicious/noArrayIndexKey: the fields are controlled by the list.
          key={index}
          index={index}
          option={option}
          isLast={index === options.length - 1}
          uses={option.id === '' ? [] : choiceUses(draft.protocol, open.item.id, option.id)}
          canGo={options.length > OPTIONS_MIN}
          problemAt={(key) => problems.at(`options[${index}].${key}`)}
          onChange={(next) => set({ ...value, options: options.with(index, next) })}
          onMove={(to) => set(withOptionMoved(value, index, to))}
          onRemove={() => set(withoutOption(value, index))}
        />
      ))}
      <Button onPress={() => set({ ...value, options: [...options, { id: '', label: '' }] })}>
        {words.addOption}
      </Button>
    </fieldset>
  );
}

/** The option that holds by itself stays the same one. */
function withOptionMoved(value: ChoiceForm, from: number, to: number): ChoiceForm {
  const places = movedTo([...value.options.keys()], from, to);
  const chosen = places.indexOf(value.chosen);
  return { ...value, options: movedTo(value.options, from, to), chosen };
}

function withoutOption(value: ChoiceForm, index: number): ChoiceForm {
  const { chosen } = value;
  const next = chosen > index ? chosen - 1 : chosen === index ? 0 : chosen;
  return { ...value, options: value.options.toSpliced(index, 1), chosen: next };
}

type OptionOfForm = ChoiceForm['options'][number];

function Option(props: {
  readonly index: number;
  readonly option: OptionOfForm;
  readonly isLast: boolean;
  /** What asks for this option, by its title. */
  readonly uses: readonly string[];
  readonly canGo: boolean;
  readonly problemAt: (key: string) => string | undefined;
  readonly onChange: (option: OptionOfForm) => void;
  readonly onMove: (to: number) => void;
  readonly onRemove: () => void;
}) {
  const { index, option, uses, canGo, onMove } = props;
  const [isRefused, setRefused] = useState(false);
  const words = familyWords.choices;
  const name = words.option(index + 1);
  const { named } = editorWords;
  const refusal = uses.length > 0 ? words.optionInUse(uses) : canGo ? null : words.twoOptions;
  return (
    <fieldset className="editor-condition">
      <legend>{name}</legend>
      <EntryFields
        part="options"
        keys={['label', 'note']}
        entry={option}
        set={(key, next) => props.onChange(withField(option, key, next))}
        problemAt={props.problemAt}
      />
      <div className="editor-deeds">
        <Button
          rank="quiet"
          name={named.up(name)}
          disabled={index === 0}
          onPress={() => onMove(index - 1)}
        >
          {editorWords.up}
        </Button>
        <Button
          rank="quiet"
          name={named.down(name)}
          disabled={props.isLast}
          onPress={() => onMove(index + 1)}
        >
          {editorWords.down}
        </Button>
        <Button
          rank="quiet"
          name={named.remove(name)}
          onPress={() => (refusal === null ? props.onRemove() : setRefused(true))}
        >
          {editorWords.remove}
        </Button>
      </div>
      <FieldProblem words={isRefused && refusal !== null ? refusal : undefined} />
    </fieldset>
  );
}
