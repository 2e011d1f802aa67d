import { useState } from 'react';
import type { Edit } from '../../protocol/edit-types.ts';
import type { Action, After, Step, Surface } from '../../protocol/types.ts';
import { Button } from '../parts/Button.tsx';
import { SelectField, TextField } from '../parts/Field.tsx';
import { Check, Segmented } from '../parts/Segmented.tsx';
import { Sheet } from '../parts/Sheet.tsx';
import { editorWords } from '../words/editor-words.ts';
import { BY_WORDS, SCOPE_WORDS } from '../words/protocol-words.ts';
import { SURFACE_WORDS } from '../words/subject-words.ts';
import { choicesOf } from './editor-choices.ts';
import type { DraftDesk } from './editor-draft.ts';
import { knownRangeClasses } from './editor-findings.ts';
import { fieldEdits, newAction } from './editor-new.ts';

const KINDS = ['confirm', 'dwell', 'coats', 'expose', 'tally', 'choose'] as const;
const SCOPES = ['case', 'unit', 'tooth', 'contact', 'mix'] as const;
const ROLES = ['dentist', 'assistant', 'either'] as const;
const LINKS = ['same', 'linked', 'all', 'previous'] as const;
const SURFACES = ['facial', 'incisal', 'occlusal', 'mesial', 'distal', 'lingual'] as const;

interface FormProps {
  readonly draft: DraftDesk;
  readonly step: Step;
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

/** Everything of a step but its numbers, which are edited with their basis. */
export function EditorStepSheet(props: {
  readonly draft: DraftDesk;
  readonly step: Step;
  readonly isNew: boolean;
  readonly onClose: () => void;
}) {
  const { draft, isNew, onClose } = props;
  const [step, setStep] = useState(props.step);
  const apply = (): void => {
    const edits: readonly Edit[] = isNew
      ? [{ do: 'add', part: 'steps', item: step, before: null }]
      : fieldEdits('steps', props.step, step);
    if (draft.editAll(edits)) onClose();
  };
  const form = { draft, step, onChange: setStep };
  return (
    <Sheet
      open
      width="wide"
      title={isNew ? editorWords.newStep : `${editorWords.stepSheet}: ${props.step.title}`}
      onClose={onClose}
      foot={
        <Button rank="main" disabled={step.title.trim() === ''} onPress={apply}>
          {editorWords.apply}
        </Button>
      }
    >
      <Words {...form} />
      <Place {...form} />
      <Pressed {...form} />
      <Waits {...form} />
    </Sheet>
  );
}

function Words({ step, onChange }: FormProps) {
  return (
    <>
      <TextField
        label={editorWords.title}
        hint={editorWords.titleHint}
        value={step.title}
        onChange={(title) => onChange({ ...step, title })}
      />
      <TextField
        label={editorWords.instruction}
        lines={2}
        value={step.instruction ?? ''}
        onChange={(text) => onChange(withText(step, 'instruction', text))}
      />
      <TextField
        label={editorWords.why}
        lines={2}
        value={step.why ?? ''}
        onChange={(text) => onChange(withText(step, 'why', text))}
      />
    </>
  );
}

function Place({ draft, step, onChange }: FormProps) {
  const { stages } = draft.protocol;
  return (
    <>
      <SelectField
        label={editorWords.stage}
        value={step.stage}
        options={stages.map(({ id, title }) => ({ value: id, label: title }))}
        onChange={(stage) => onChange({ ...step, stage })}
      />
      <Segmented
        label={editorWords.per}
        value={step.per}
        options={choicesOf(SCOPES, SCOPE_WORDS)}
        onChange={(per) => onChange({ ...step, per })}
      />
      <Segmented
        label={editorWords.by}
        value={step.by}
        options={choicesOf(ROLES, BY_WORDS)}
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

function Waits({ draft, step, onChange }: FormProps) {
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
