import type { Step } from '../../../protocol/types.ts';
import { editorWords } from '../../../words/editor-words.ts';
import { pressingWords } from '../../../words/pressing-words.ts';
import { protocolWords } from '../../../words/protocol-words.ts';
import { stepFormWords } from '../../../words/step-form-words.ts';
import { SelectField } from '../../parts/Field.tsx';
import { Check } from '../../parts/Segmented.tsx';
import { titledChoices } from '../../shared/choices.ts';
import { useLead } from '../use-lead.ts';
import { EditorFormSheet } from './EditorFormSheet.tsx';
import type { SheetProps } from './EditorPart.tsx';
import { StepPressing } from './EditorPressing.tsx';
import { StepAction } from './EditorStepAction.tsx';
import { StepCautions, StepOnlyIf, StepUses } from './EditorStepExtras.tsx';
import { StepSection } from './EditorStepSection.tsx';
import { StepTexts } from './EditorStepTexts.tsx';
import { StepWaits } from './EditorStepWaits.tsx';
import { EntryFields } from './EntryFields.tsx';
import { type Form, fieldsOf, useForm } from './editor-form.ts';
import { keptForms, useKept } from './editor-kept.ts';
import { newHands } from './editor-new.ts';
import { listEdits } from './editor-pressing.ts';
import { newStepAfter, STEP_GROUPS, STORED_STEP, stepEdits } from './editor-step.ts';
import { nameOfStep, stepChoices } from './editor-step-names.ts';
import { NewFigures } from './NewFigures.tsx';
import { newHandCells } from './new-figures.ts';
import type { OpenDraft } from './open-draft.ts';
import { WhereFields } from './WhereFields.tsx';

const STEP_FORMS = keptForms<Step>(STORED_STEP.form);
const PLACES = keptForms<string>(STORED_STEP.place);

const { what: WHAT, flags: FLAGS, waits: WAITS, asked: ASKED } = STEP_GROUPS;
const { pressed: PRESSED, uses: USES, texts: TEXTS } = STEP_GROUPS;
const FIELDS = Object.values(STEP_GROUPS).flat();

interface PartProps {
  readonly draft: OpenDraft;
  readonly form: Form<Step>;
}

interface Place {
  /** The step behind which a new one stands; empty for the beginning. */
  readonly after: string;
  readonly set: (after: string) => void;
}

/** Everything of a step but its numbers, which are edited with their basis. */
export function EditorStepSheet(props: SheetProps<Step>) {
  const { draft, open } = props;
  const { protocol } = draft;
  const shipped = useLead((s) => s.templates.find(({ id }) => id === protocol.id));
  const template = shipped ?? draft.saved.start;
  const place = useKept(PLACES, `${draft.saved.id} ${open.item.id}`, () => lastOf(protocol.steps));
  const form = useForm(STEP_FORMS, {
    draft,
    part: 'steps',
    id: open.item.id,
    fields: FIELDS,
    first: () => open.item,
    editsOf: (now) => [
      ...listEdits(protocol, template, now),
      ...stepEdits(protocol, open, { now, after: place.value }),
    ],
    onClose: () => {
      place.forget();
      props.onClose();
    },
  });
  const putAfter = (after: string): void => {
    form.set(newStepAfter(protocol, { step: form.value, was: place.value, after }));
    place.set(after);
  };
  const section = (keys: readonly string[]) => ({
    hasProblem: keys.some((key) => form.problems.at(key) !== undefined),
    tries: form.tries,
  });
  const notes = notesOf(draft, form.value);
  const part = { draft, form };
  return (
    <EditorFormSheet
      title={open.isNew ? editorWords.newStep : editorWords.stepSheet(open.item.title)}
      form={form}
    >
      <StepSection title={stepFormWords.what} note={notes.what} {...section(WHAT)} isFirst>
        <What {...part} place={open.isNew ? { after: place.value, set: putAfter } : null} />
      </StepSection>
      <StepSection title={stepFormWords.waits} note={notes.waits} {...section(WAITS)}>
        <Waits {...part} />
      </StepSection>
      <StepSection title={stepFormWords.asked} note={notes.asked} {...section(ASKED)}>
        <StepAction {...part} />
      </StepSection>
      <StepSection title={stepFormWords.pressed} note={notes.pressed} {...section(PRESSED)}>
        <Rounds {...part} />
        <StepPressing protocol={protocol} template={template} form={form} />
      </StepSection>
      <StepSection title={stepFormWords.uses} note={notes.uses} {...section(USES)}>
        <StepUses {...part} />
        <StepCautions
          draft={draft}
          step={form.value}
          problems={form.problems}
          onChange={form.set}
        />
      </StepSection>
      <StepSection title={stepFormWords.bar} note={notes.bar} {...section(TEXTS)}>
        <StepTexts form={form} />
      </StepSection>
    </EditorFormSheet>
  );
}

const lastOf = (steps: readonly Step[]): string => steps.at(-1)?.id ?? '';

/** One line for each section, said for as long as it is closed. */
function notesOf({ protocol }: OpenDraft, step: Step) {
  const { slots, stages, steps } = protocol;
  const listed = (names: readonly string[]): string =>
    names.length === 0 ? stepFormWords.nothing : stepFormWords.listed(names);
  const uses = (step.uses ?? []).map((id) => slots.find((slot) => slot.id === id)?.label ?? id);
  return {
    what: stepFormWords.whatNote({
      stage: stages.find(({ id }) => id === step.stage)?.title ?? step.stage,
      per: protocolWords.scopes[step.per],
      by: protocolWords.roles[step.by],
    }),
    waits: listed(step.after.map((after) => nameOfStep(steps, after.step))),
    asked: editorWords.actionKind[step.action.kind],
    pressed: pressingWords.ways[step.pressed?.kind ?? 'each'],
    uses: listed(step.usesLight === true ? [...uses, stepFormWords.light] : uses),
    bar: listed(step.words?.end === undefined ? [] : [step.words.end]),
  };
}

function What({ draft, form, place }: PartProps & { readonly place: Place | null }) {
  const { stages, steps } = draft.protocol;
  return (
    <>
      {place !== null && (
        <SelectField
          label={stepFormWords.standsAfter}
          value={place.after}
          options={[{ value: '', label: stepFormWords.first }, ...stepChoices(steps)]}
          onChange={place.set}
        />
      )}
      <EntryFields
        part="steps"
        keys={WHAT}
        {...fieldsOf(form)}
        choices={{ stage: titledChoices(stages) }}
      />
      <div className="editor-choices">
        <EntryFields part="steps" keys={FLAGS} {...fieldsOf(form)} />
      </div>
    </>
  );
}

function Waits({ draft, form }: PartProps) {
  const { value: step, set, problems } = form;
  const { protocol } = draft;
  const others = protocol.steps.filter(({ id }) => id !== step.id);
  return (
    <>
      <StepWaits draft={draft} form={form} />
      {step.action.kind === 'dwell' && (
        <EntryFields
          part="steps"
          keys={['beginsWith']}
          {...fieldsOf(form)}
          choices={{ beginsWith: stepChoices(protocol.steps, others) }}
        />
      )}
      <StepOnlyIf draft={draft} step={step} problems={problems} onChange={set} />
      <WhereFields
        legend={stepFormWords.doneOnlyWhere}
        protocol={protocol}
        where={step.where}
        problems={problems}
        place="where"
        onChange={(where) => fieldsOf(form).set('where', where)}
      />
    </>
  );
}

/** Whether a press stands for a round, whose rounds they are, and the rhythm of the hands. */
function Rounds({ draft, form }: PartProps) {
  const { value: step, problems } = form;
  const { steps } = draft.protocol;
  const fields = fieldsOf(form);
  const others = steps.filter(({ id }) => id !== step.id);
  return (
    <>
      <div className="editor-choices">
        <EntryFields part="steps" keys={['together']} {...fields} />
        {step.action.kind === 'dwell' && (
          <Check
            label={stepFormWords.hands}
            checked={step.hands !== undefined}
            onChange={(isOn) => fields.set('hands', isOn ? newHands() : undefined)}
          />
        )}
      </div>
      {step.hands !== undefined && <p className="lw-aside">{stepFormWords.handsLede}</p>}
      <NewFigures draft={draft} form={form} cellsOf={newHandCells} />
      <EntryFields
        part="steps"
        keys={['roundOf']}
        {...fields}
        problemAt={problems.at}
        choices={{ roundOf: stepChoices(steps, others) }}
      />
    </>
  );
}
