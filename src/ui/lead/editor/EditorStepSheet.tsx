import type { Edit } from '../../../protocol/edit-types.ts';
import type { Action, After, Step, Surface } from '../../../protocol/types.ts';
import { SCOPES } from '../../../protocol/vocabulary.ts';
import { editorWords } from '../../../words/editor-words.ts';
import { protocolWords } from '../../../words/protocol-words.ts';
import { SURFACE_WORDS } from '../../../words/subject-words.ts';
import { Button } from '../../parts/Button.tsx';
import { SelectField, TextField } from '../../parts/Field.tsx';
import { Check, Segmented } from '../../parts/Segmented.tsx';
import { EditorFormSheet } from './EditorFormSheet.tsx';
import { StepCautions, StepOnlyIf } from './EditorStepExtras.tsx';
import { choicesOf } from './editor-choices.ts';
import { knownRangeClasses } from './editor-findings.ts';
import { useForm } from './editor-form.ts';
import type { FormProblems } from './editor-form-problems.ts';
import { keptForms } from './editor-kept.ts';
import { fieldEdits, newAction } from './editor-new.ts';
import type { OpenDraft } from './open-draft.ts';

const KINDS = ['confirm', 'dwell', 'coats', 'expose', 'tally', 'choose'] as const;
const ROLES = ['dentist', 'assistant', 'either'] as const;
const LINKS = ['same', 'linked', 'all', 'previous'] as const;
const SURFACES = ['facial', 'incisal', 'occlusal', 'mesial', 'distal', 'lingual'] as const;

interface FormProps {
  readonly draft: OpenDraft;
  readonly step: Step;
  readonly problems: FormProblems;
  readonly onChange: (step: Step) => void;
}

/** A step without the optional key, or with it: never with an empty value. */
function withText(step: Step, key: 'instruction' | 'why' | 'rangeClass', text: string): Step {
  const { [key]: _, ...rest } = step;
  return text.trim() === '' ? rest : { ...rest, [key]: text };
}

function withFlag(step: Step, key: 'together' | 'usesLight' | 'optional', isOn: boolean): Step {
  const { [key]: _, ...rest } = step;
  return isOn ? { ...rest, [key]: true } : rest;
}

const STEP_FORMS = keptForms<Step>();
/** What the sheet can say something wrong about beside the field itself. */
const FIELDS = ['title', 'instruction', 'why', 'stage', 'after', 'onlyIf', 'cautions'];

function stepEdits(
  o: { readonly step: Step; readonly isNew: boolean },
  now: Step,
): readonly Edit[] {
  const after = { ...now, title: now.title.trim() };
  return o.isNew
    ? [{ do: 'add', part: 'steps', item: after, before: null }]
    : fieldEdits('steps', o.step, after);
}

/** Everything of a step but its numbers, which are edited with their basis. */
export function EditorStepSheet(props: {
  readonly draft: OpenDraft;
  readonly step: Step;
  readonly isNew: boolean;
  readonly onClose: () => void;
}) {
  const { draft, isNew } = props;
  const form = useForm(STEP_FORMS, {
    draft,
    part: 'steps',
    id: props.step.id,
    fields: FIELDS,
    first: () => props.step,
    editsOf: (step) => stepEdits(props, step),
    onClose: props.onClose,
  });
  const fields = { draft, step: form.value, problems: form.problems, onChange: form.set };
  return (
    <EditorFormSheet
      title={isNew ? editorWords.newStep : editorWords.stepSheet(props.step.title)}
      problems={form.problems}
      tries={form.tries}
      onApply={form.apply}
      onClose={form.close}
    >
      <Words {...fields} />
      <Place {...fields} />
      <Pressed {...fields} />
      <Waits {...fields} />
      <StepOnlyIf {...fields} />
      <StepCautions {...fields} />
    </EditorFormSheet>
  );
}

function Words({ step, problems, onChange }: FormProps) {
  return (
    <>
      <TextField
        label={editorWords.title}
        hint={editorWords.titleHint}
        value={step.title}
        problem={problems.at('title')}
        onChange={(title) => onChange({ ...step, title })}
      />
      <TextField
        label={editorWords.instruction}
        lines={2}
        value={step.instruction ?? ''}
        problem={problems.at('instruction')}
        onChange={(text) => onChange(withText(step, 'instruction', text))}
      />
      <TextField
        label={editorWords.why}
        lines={2}
        value={step.why ?? ''}
        problem={problems.at('why')}
        onChange={(text) => onChange(withText(step, 'why', text))}
      />
    </>
  );
}

function Place({ draft, step, problems, onChange }: FormProps) {
  const { stages } = draft.protocol;
  return (
    <>
      <SelectField
        label={editorWords.stage}
        value={step.stage}
        options={stages.map(({ id, title }) => ({ value: id, label: title }))}
        problem={problems.at('stage')}
        onChange={(stage) => onChange({ ...step, stage })}
      />
      <Segmented
        label={editorWords.per}
        value={step.per}
        options={choicesOf(SCOPES, protocolWords.scopes)}
        onChange={(per) => onChange({ ...step, per })}
      />
      <Segmented
        label={editorWords.by}
        value={step.by}
        options={choicesOf(ROLES, protocolWords.roles)}
        onChange={(by) => onChange({ ...step, by })}
      />
    </>
  );
}

function withKind(step: Step, kind: Action['kind']): Step {
  if (kind === step.action.kind) return step;
  const { hands: _hands, beginsWith: _begins, ...rest } = step;
  return { ...(kind === 'dwell' ? step : rest), action: newAction(kind) };
}

function Pressed({ step, onChange }: FormProps) {
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
        options={choicesOf(KINDS, editorWords.actionKind)}
        onChange={(value) => {
          const kind = KINDS.find((name) => name === value);
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
      <SelectField
        label={editorWords.rangeClass}
        value={step.rangeClass ?? ''}
        options={[
          { value: '', label: editorWords.noRangeClass },
          ...knownRangeClasses(step.rangeClass).map((value) => ({ value, label: value })),
        ]}
        onChange={(text) => onChange(withText(step, 'rangeClass', text))}
      />
      <div className="editor-choices">
        <Check
          label={editorWords.together}
          checked={step.together === true}
          onChange={(isOn) => onChange(withFlag(step, 'together', isOn))}
        />
        <Check
          label={editorWords.usesLight}
          checked={step.usesLight === true}
          onChange={(isOn) => onChange(withFlag(step, 'usesLight', isOn))}
        />
        <Check
          label={editorWords.optional}
          checked={step.optional === true}
          onChange={(isOn) => onChange(withFlag(step, 'optional', isOn))}
        />
      </div>
    </>
  );
}

function Waits({ draft, step, problems, onChange }: FormProps) {
  const others = draft.protocol.steps.filter((other) => other.id !== step.id);
  const set = (after: readonly After[]): void => onChange({ ...step, after });
  const replace = (index: number, entry: After): void =>
    set(step.after.map((old, i) => (i === index ? entry : old)));
  return (
    <fieldset className="editor-waits">
      <legend>{editorWords.after}</legend>
      {step.after.map((entry, index) => (
        // A step may wait for another one twice, on two edges: only the place tells them apart.
        // biome-ignore lint/suspicious/noArrayIndexKey: the fields are controlled by the list.
        <div className="editor-wait" key={index}>
          <SelectField
            label={editorWords.afterStep}
            value={entry.step}
            options={others.map(({ id, title }) => ({ value: id, label: title }))}
            onChange={(id) => replace(index, { ...entry, step: id })}
          />
          <SelectField
            label={editorWords.afterLink}
            value={entry.link}
            options={choicesOf(LINKS, editorWords.linkWords)}
            problem={problems.at(`after[${index}]`)}
            onChange={(value) => {
              const link = LINKS.find((name) => name === value);
              if (link !== undefined) replace(index, { ...entry, link });
            }}
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
