import { ACTION_KINDS, withField } from '../../../protocol/schema-fields.ts';
import type { Action, Step, Surface } from '../../../protocol/types.ts';
import { SURFACES } from '../../../protocol/vocabulary.ts';
import { editorWords } from '../../../words/editor-words.ts';
import { stepFormWords } from '../../../words/step-form-words.ts';
import { SURFACE_WORDS } from '../../../words/subject-words.ts';
import { SelectField } from '../../parts/Field.tsx';
import { Check } from '../../parts/Segmented.tsx';
import { choicesOf } from '../../shared/choices.ts';
import { EditorStepAnswers } from './EditorStepAnswers.tsx';
import { ReadBackField, StepEvidence } from './EditorStepEvidence.tsx';
import { EditorStepPicks } from './EditorStepPicks.tsx';
import { StepTimes } from './EditorStepTimes.tsx';
import { EntryFields, FieldProblem } from './EntryFields.tsx';
import { type Form, fieldsOf } from './editor-form.ts';
import { withKind } from './editor-step.ts';
import { stepKinds } from './editor-step-names.ts';
import { NewFigures } from './NewFigures.tsx';
import type { OpenDraft } from './open-draft.ts';

interface PartProps {
  readonly draft: OpenDraft;
  readonly form: Form<Step>;
}

/** What is done at a step, and what is asked with its press. */
export function StepAction(props: PartProps) {
  const { value: step, set } = props.form;
  return (
    <>
      <SelectField
        label={editorWords.action}
        value={step.action.kind}
        options={choicesOf(ACTION_KINDS, editorWords.actionKind)}
        onChange={(value) => {
          const kind = ACTION_KINDS.find((name) => name === value);
          if (kind !== undefined) set(withKind(step, kind));
        }}
      />
      <NewFigures {...props} />
      <OfKind {...props} action={step.action} />
      <EntryFields
        part="steps"
        keys={['rangeClass']}
        {...fieldsOf(props.form)}
        choices={{ rangeClass: stepKinds(step.rangeClass) }}
      />
    </>
  );
}

function OfKind({ draft, form, action }: PartProps & { readonly action: Action }) {
  const { protocol } = draft;
  const { value: step, problems } = form;
  const set = (next: Action): void => form.set({ ...step, action: next });
  const problemAt = (key: string) => problems.at(`action.${key}`);
  switch (action.kind) {
    case 'confirm':
      return (
        <StepEvidence
          protocol={protocol}
          evidence={action.evidence}
          problems={problems}
          onChange={(evidence) => set(withField(action, 'evidence', evidence))}
        />
      );
    case 'dwell':
      return <StepTimes protocol={protocol} action={action} problems={problems} onChange={set} />;
    case 'coats':
      return (
        <EntryFields
          part="coats"
          keys={['until']}
          entry={action}
          set={(key, value) => set(withField(action, key, value))}
          problemAt={problemAt}
        />
      );
    case 'expose':
      return <Light action={action} problemAt={problemAt} onChange={set} />;
    case 'tally':
      return (
        <EntryFields
          part="tally"
          keys={['label']}
          entry={action}
          set={(key, value) => set(withField(action, key, value))}
          problemAt={problemAt}
        />
      );
    case 'choose':
      return <Choice draft={draft} form={form} action={action} />;
    default:
      return action satisfies never;
  }
}

type ActionOf<Kind extends Action['kind']> = Extract<Action, { kind: Kind }>;

function Light(o: {
  readonly action: ActionOf<'expose'>;
  readonly problemAt: (key: string) => string | undefined;
  readonly onChange: (action: Action) => void;
}) {
  const { action, onChange } = o;
  const { surfaces } = action;
  const toggle = (surface: Surface, isOn: boolean): void => {
    const others = surfaces.filter((other) => other !== surface);
    onChange({ ...action, surfaces: isOn ? [...others, surface] : others });
  };
  return (
    <>
      <fieldset className="editor-choices">
        <legend>{editorWords.surfaces}</legend>
        {SURFACES.map((surface) => (
          <Check
            key={surface}
            label={SURFACE_WORDS[surface]}
            checked={surfaces.includes(surface)}
            onChange={(isOn) => toggle(surface, isOn)}
          />
        ))}
        {surfaces.length > 1 && (
          <p className="numbers-note">
            {stepFormWords.surfaceOrder(surfaces.map((each) => SURFACE_WORDS[each]))}
          </p>
        )}
        <FieldProblem words={o.problemAt('surfaces')} />
      </fieldset>
      <EntryFields
        part="expose"
        keys={['walk']}
        entry={action}
        set={(key, value) => onChange(withField(action, key, value))}
        problemAt={o.problemAt}
      />
      <p className="lw-aside">{stepFormWords.numbersElsewhere}</p>
    </>
  );
}

function Choice({ draft, form, action }: PartProps & { readonly action: ActionOf<'choose'> }) {
  const { value: step, problems } = form;
  const { steps } = draft.protocol;
  const isThere = steps.some(({ id }) => id === step.id);
  const all = isThere ? steps : [...steps, step];
  const set = (next: Action): void => form.set({ ...step, action: next });
  return (
    <>
      <EditorStepAnswers
        options={action.options}
        place="action"
        problems={problems}
        onChange={(options) => set({ ...action, options })}
        more={(option, setOption) => (
          <EditorStepPicks
            legend={stepFormWords.again(option.label)}
            steps={all}
            chosen={option.redo ?? []}
            onChange={(redo) =>
              setOption(withField(option, 'redo', redo.length === 0 ? undefined : redo))
            }
          />
        )}
      />
      <ReadBackField
        evidence={action.evidence}
        problems={problems}
        onChange={(evidence) => set(withField(action, 'evidence', evidence))}
      />
    </>
  );
}
