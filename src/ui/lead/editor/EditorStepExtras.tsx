import { withField } from '../../../protocol/schema-fields.ts';
import type { OnlyIf, Step } from '../../../protocol/types.ts';
import { aroundWords } from '../../../words/around-words.ts';
import { editorWords } from '../../../words/editor-words.ts';
import { Button } from '../../parts/Button.tsx';
import { SelectField } from '../../parts/Field.tsx';
import { Check } from '../../parts/Segmented.tsx';
import { FieldProblem } from './EntryFields.tsx';
import { conditionKey, conditionWords, knownConditions } from './editor-around-model.ts';
import type { FormProblems } from './editor-form-problems.ts';
import type { OpenDraft } from './open-draft.ts';

interface FieldsProps {
  readonly draft: OpenDraft;
  readonly step: Step;
  readonly problems: FormProblems;
  readonly onChange: (step: Step) => void;
}

function withList(step: Step, key: 'cautions' | 'onlyIf', list: readonly unknown[]): Step {
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

/** Under which choice or way back a step is done at all. */
export function StepOnlyIf({ draft, step, problems, onChange }: FieldsProps) {
  const conditions = step.onlyIf ?? [];
  const known = knownConditions(draft.protocol, step);
  const set = (list: readonly OnlyIf[]): void => onChange(withList(step, 'onlyIf', list));
  const keys = new Set(known.map(conditionKey));
  // What leads nowhere any more stays to be seen until another one is chosen.
  const all = [...known, ...conditions.filter((one) => !keys.has(conditionKey(one)))];
  const options = all.map((one) => ({
    value: conditionKey(one),
    label: conditionWords(draft.protocol, one),
  }));
  const first = known[0];
  return (
    <fieldset className="editor-waits">
      <legend>{aroundWords.onlyIf}</legend>
      <p className="lw-aside">
        {first === undefined ? aroundWords.noCondition : aroundWords.onlyIfLede}
      </p>
      {conditions.map((condition, index) => (
        // The same condition may stand twice while it is edited: only the place tells them apart.
        // biome-ignore lint/suspicious/noArrayIndexKey: the fields are controlled by the list.
        <div className="editor-wait" key={index}>
          <SelectField
            label={aroundWords.condition}
            value={conditionKey(condition)}
            options={options}
            problem={problems.at(`onlyIf[${index}]`)}
            onChange={(key) => {
              const next = all.find((one) => conditionKey(one) === key);
              if (next !== undefined) set(conditions.map((old, i) => (i === index ? next : old)));
            }}
          />
          <Button
            rank="quiet"
            name={editorWords.named.remove(conditionWords(draft.protocol, condition))}
            onPress={() => set(conditions.filter((_, i) => i !== index))}
          >
            {editorWords.remove}
          </Button>
        </div>
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
