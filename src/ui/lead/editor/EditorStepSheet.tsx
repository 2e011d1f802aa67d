import { ACTION_KINDS, withField } from '../../../protocol/schema-fields.ts';
import type { Action, After, Step, Surface } from '../../../protocol/types.ts';
import { SURFACES } from '../../../protocol/vocabulary.ts';
import { editorWords } from '../../../words/editor-words.ts';
import { SURFACE_WORDS } from '../../../words/subject-words.ts';
import { Button } from '../../parts/Button.tsx';
import { SelectField } from '../../parts/Field.tsx';
import { Check } from '../../parts/Segmented.tsx';
import { choicesOf, titledChoices } from '../../shared/choices.ts';
import { EditorFormSheet } from './EditorFormSheet.tsx';
import { StepCautions, StepOnlyIf } from './EditorStepExtras.tsx';
import { EntryFields } from './EntryFields.tsx';
import { knownRangeClasses } from './editor-findings.ts';
import { type Form, fieldsOf, useForm } from './editor-form.ts';
import { keptForms } from './editor-kept.ts';
import { entryEdits, newAction, type OpenEntry } from './editor-new.ts';
import type { OpenDraft } from './open-draft.ts';

const STEP_FORMS = keptForms<Step>();
const ABOUT = ['title', 'instruction', 'why', 'stage', 'per', 'by'] as const;
const FLAGS = ['together', 'usesLight', 'optional'] as const;
/** What the sheet can say something wrong about beside the field itself. */
const FIELDS = [...ABOUT, 'rangeClass', 'after', 'onlyIf', 'cautions'];

interface PartProps {
  readonly draft: OpenDraft;
  readonly form: Form<Step>;
}

/** Everything of a step but its numbers, which are edited with their basis. */
export function EditorStepSheet(props: {
  readonly draft: OpenDraft;
  readonly open: OpenEntry<Step>;
  readonly onClose: () => void;
}) {
  const { draft, open } = props;
  const form = useForm(STEP_FORMS, {
    draft,
    part: 'steps',
    id: open.item.id,
    fields: FIELDS,
    first: () => open.item,
    editsOf: (now) => entryEdits('steps', open, { ...now, title: now.title.trim() }),
    onClose: props.onClose,
  });
  const fields = { draft, step: form.value, problems: form.problems, onChange: form.set };
  return (
    <EditorFormSheet
      title={open.isNew ? editorWords.newStep : editorWords.stepSheet(open.item.title)}
      form={form}
    >
      <EntryFields
        part="steps"
        keys={ABOUT}
        {...fieldsOf(form)}
        choices={{ stage: titledChoices(draft.protocol.stages) }}
      />
      <Pressed draft={draft} form={form} />
      <Waits draft={draft} form={form} />
      <StepOnlyIf {...fields} />
      <StepCautions {...fields} />
    </EditorFormSheet>
  );
}

function withKind(step: Step, kind: Action['kind']): Step {
  if (kind === step.action.kind) return step;
  const { hands: _hands, beginsWith: _begins, ...rest } = step;
  return { ...(kind === 'dwell' ? step : rest), action: newAction(kind) };
}

function Pressed({ form }: PartProps) {
  const { value: step, set: onChange } = form;
  const { action } = step;
  const toggle = (surface: Surface, isOn: boolean): void => {
    if (action.kind !== 'expose') return;
    const others = action.surfaces.filter((other) => other !== surface);
    onChange({ ...step, action: { ...action, surfaces: isOn ? [...others, surface] : others } });
  };
  return (
    <>
      <SelectField
        label={editorWords.action}
        value={action.kind}
        options={choicesOf(ACTION_KINDS, editorWords.actionKind)}
        onChange={(value) => {
          const kind = ACTION_KINDS.find((name) => name === value);
          if (kind !== undefined) onChange(withKind(step, kind));
        }}
      />
      {action.kind === 'expose' && (
        <fieldset className="editor-choices">
          <legend>{editorWords.surfaces}</legend>
          {SURFACES.map((surface) => (
            <Check
              key={surface}
              label={SURFACE_WORDS[surface]}
              checked={action.surfaces.includes(surface)}
              onChange={(isOn) => toggle(surface, isOn)}
            />
          ))}
        </fieldset>
      )}
      <EntryFields
        part="steps"
        keys={['rangeClass']}
        {...fieldsOf(form)}
        choices={{
          rangeClass: knownRangeClasses(step.rangeClass).map((value) => ({ value, label: value })),
        }}
      />
      <div className="editor-choices">
        <EntryFields part="steps" keys={FLAGS} {...fieldsOf(form)} />
      </div>
    </>
  );
}

function Waits({ draft, form }: PartProps) {
  const { value: step, problems } = form;
  const others = draft.protocol.steps.filter((other) => other.id !== step.id);
  const set = (after: readonly After[]): void => form.set({ ...step, after });
  return (
    <fieldset className="editor-waits">
      <legend>{editorWords.after}</legend>
      {step.after.map((entry, index) => (
        // A step may wait for another one twice, on two edges: only the place tells them apart.
        // biome-ignore lint/suspicious/noArrayIndexKey: the fields are controlled by the list.
        <div className="editor-wait" key={index}>
          <EntryFields
            part="after"
            keys={['step', 'link']}
            entry={entry}
            set={(key, value) =>
              set(step.after.map((old, i) => (i === index ? withField(old, key, value) : old)))
            }
            problemAt={(key) => problems.at(`after[${index}].${key}`)}
            choices={{ step: titledChoices(others) }}
            compact
          />
          <Button rank="quiet" onPress={() => set(step.after.filter((_, i) => i !== index))}>
            {editorWords.remove}
          </Button>
        </div>
      ))}
      <Button
        disabled={others.length === 0}
        onPress={() => set([...step.after, { step: others.at(-1)?.id ?? '', link: 'all' }])}
      >
        {editorWords.addAfter}
      </Button>
    </fieldset>
  );
}
