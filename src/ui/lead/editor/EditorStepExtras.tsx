import { withField } from '../../../protocol/schema-fields.ts';
import type { OnlyIf, Protocol, Step } from '../../../protocol/types.ts';
import { aroundWords } from '../../../words/around-words.ts';
import { editorWords } from '../../../words/editor-words.ts';
import { stepFormWords } from '../../../words/step-form-words.ts';
import { Button } from '../../parts/Button.tsx';
import { SelectField } from '../../parts/Field.tsx';
import { Check } from '../../parts/Segmented.tsx';
import { EntryFields, FieldProblem } from './EntryFields.tsx';
import { conditionKey, conditionWords, knownConditions } from './editor-around-model.ts';
import { type Form, fieldsOf } from './editor-form.ts';
import type { FormProblems } from './editor-form-problems.ts';
import { nameOfStep } from './editor-step-names.ts';
import type { OpenDraft } from './open-draft.ts';

interface FieldsProps {
  readonly draft: OpenDraft;
  readonly step: Step;
  readonly problems: FormProblems;
  readonly onChange: (step: Step) => void;
}

function withList(step: Step, key: 'cautions' | 'onlyIf' | 'uses', list: readonly unknown[]): Step {
  return withField(step, key, list.length === 0 ? undefined : list);
}

/** Which cautions are said at a step. */
export function StepCautions({ draft, step, problems, onChange }: FieldsProps) {
  return (
    <EntryCautions
      draft={draft}
      said={step.cautions ?? []}
      problems={problems}
      onChange={(said) => onChange(withList(step, 'cautions', said))}
    />
  );
}

/** Which cautions are said at a step, or while a way back is carried out. */
export function EntryCautions(o: {
  readonly draft: OpenDraft;
  readonly said: readonly string[];
  readonly problems: FormProblems;
  readonly onChange: (said: readonly string[]) => void;
}) {
  const { said, problems } = o;
  const { cautions } = o.draft.protocol;
  const toggle = (id: string, isOn: boolean): void => {
    const others = said.filter((other) => other !== id);
    o.onChange(isOn ? [...others, id] : others);
  };
  return (
    <fieldset className="editor-waits">
      <legend>{aroundWords.cautionsOfStep}</legend>
      {cautions.length === 0 && <p className="lw-aside">{aroundWords.noCautions}</p>}
      {cautions.map((caution) => (
        <Check
          key={caution.id}
          label={caution.words}
          checked={said.includes(caution.id)}
          onChange={(isOn) => toggle(caution.id, isOn)}
        />
      ))}
      <FieldProblem words={problems.at('cautions')} />
    </fieldset>
  );
}

/** The light and the materials that a step takes. */
export function StepUses(props: { readonly draft: OpenDraft; readonly form: Form<Step> }) {
  const { slots } = props.draft.protocol;
  const { value: step, set, problems } = props.form;
  const { uses = [] } = step;
  const toggle = (id: string, isOn: boolean): void => {
    const others = uses.filter((other) => other !== id);
    set(withList(step, 'uses', isOn ? [...others, id] : others));
  };
  return (
    <>
      <div className="editor-choices">
        <EntryFields part="steps" keys={['usesLight']} {...fieldsOf(props.form)} />
      </div>
      <fieldset className="editor-choices">
        <legend>{stepFormWords.materials}</legend>
        {slots.length === 0 && <p className="lw-aside">{stepFormWords.noMaterials}</p>}
        {slots.map(({ id, label }) => (
          <Check
            key={id}
            label={label}
            checked={uses.includes(id)}
            onChange={(isOn) => toggle(id, isOn)}
          />
        ))}
        <FieldProblem words={problems.at('uses')} />
      </fieldset>
    </>
  );
}

/** Under which choice or way back a step is done at all. */
export function StepOnlyIf({ draft, step, problems, onChange }: FieldsProps) {
  const conditions = step.onlyIf ?? [];
  const known = knownConditions(draft.protocol, step);
  const set = (list: readonly OnlyIf[]): void => onChange(withList(step, 'onlyIf', list));
  const keys = new Set(known.map(conditionKey));
  // What leads nowhere any more stays to be seen until another one is chosen.
  const lost = conditions.map(withoutVoided).filter((one) => !keys.has(conditionKey(one)));
  const all = [...known, ...lost];
  const first = known[0];
  return (
    <fieldset className="editor-waits">
      <legend>{aroundWords.onlyIf}</legend>
      <p className="lw-aside">
        {first === undefined ? aroundWords.noCondition : aroundWords.onlyIfLede}
      </p>
      {conditions.map((condition, index) => (
        <Condition
          // The same condition may stand twice while it is edited: only the place tells them apart.
          // biome-ignore lint/suspicious/noArrayIndexKey: the fields are controlled by the list.
          key={index}
          protocol={draft.protocol}
          all={all}
          condition={condition}
          problem={problems.at(`onlyIf[${index}]`)}
          onChange={(next) => set(conditions.map((old, i) => (i === index ? next : old)))}
          onRemove={() => set(conditions.filter((_, i) => i !== index))}
        />
      ))}
      <Button
        disabled={first === undefined}
        onPress={() => first !== undefined && set([...conditions, first])}
      >
        {aroundWords.addCondition}
      </Button>
    </fieldset>
  );
}

function withoutVoided(condition: OnlyIf): OnlyIf {
  return 'wayBack' in condition ? { wayBack: condition.wayBack } : condition;
}

/** One choice or way back; for a way back, also which step it has to have made undone. */
function Condition(o: {
  readonly protocol: Protocol;
  readonly all: readonly OnlyIf[];
  readonly condition: OnlyIf;
  readonly problem: string | undefined;
  readonly onChange: (condition: OnlyIf) => void;
  readonly onRemove: () => void;
}) {
  const { protocol, all, condition } = o;
  const { steps, waysBack } = protocol;
  const way = 'wayBack' in condition ? condition : null;
  const voids = waysBack.find(({ id }) => id === way?.wayBack)?.voids ?? [];
  const voided = new Set([...voids.map(({ step }) => step), ...(way?.voided ? [way.voided] : [])]);
  const asStep = (id: string) => ({ value: id, label: nameOfStep(steps, id) });
  return (
    <div className="editor-wait">
      <SelectField
        label={aroundWords.condition}
        value={conditionKey(withoutVoided(condition))}
        options={all.map((one) => ({
          value: conditionKey(one),
          label: conditionWords(protocol, one),
        }))}
        problem={o.problem}
        onChange={(key) => {
          const next = all.find((one) => conditionKey(one) === key);
          if (next !== undefined) o.onChange(next);
        }}
      />
      {way === null ? (
        <span />
      ) : (
        <SelectField
          label={stepFormWords.voided}
          value={way.voided ?? ''}
          options={[{ value: '', label: stepFormWords.voidedAny }, ...[...voided].map(asStep)]}
          onChange={(id) => o.onChange(withField(way, 'voided', id === '' ? undefined : id))}
        />
      )}
      <Button
        rank="quiet"
        name={editorWords.named.remove(conditionWords(protocol, condition))}
        onPress={o.onRemove}
      >
        {editorWords.remove}
      </Button>
    </div>
  );
}
