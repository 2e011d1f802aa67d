import { withField } from '../../../protocol/schema-fields.ts';
import type { After, Edge, Step } from '../../../protocol/types.ts';
import { editorWords } from '../../../words/editor-words.ts';
import { stepFormWords } from '../../../words/step-form-words.ts';
import { Button } from '../../parts/Button.tsx';
import { SelectField } from '../../parts/Field.tsx';
import { choicesOf } from '../../shared/choices.ts';
import { EntryFields } from './EntryFields.tsx';
import type { Form } from './editor-form.ts';
import { nameOfStep, stepChoices } from './editor-step-names.ts';
import type { OpenDraft } from './open-draft.ts';
import { WhereFields } from './WhereFields.tsx';
import { firstCondition } from './where-model.ts';

const EDGES = ['start', 'end'] as const;

/** The steps that a step waits for: on which subjects, for which edge, and where at all. */
export function StepWaits(props: { readonly draft: OpenDraft; readonly form: Form<Step> }) {
  const { draft, form } = props;
  const { value: step } = form;
  const others = draft.protocol.steps.filter((other) => other.id !== step.id);
  const set = (after: readonly After[]): void => form.set({ ...step, after });
  return (
    <fieldset className="editor-waits">
      <legend>{editorWords.after}</legend>
      {step.after.map((entry, index) => (
        <Wait
          // A step may wait for another one twice, on two edges: only the place tells them apart.
          // biome-ignore lint/suspicious/noArrayIndexKey: the fields are controlled by the list.
          key={index}
          {...props}
          entry={entry}
          index={index}
          onChange={(next) => set(step.after.map((old, i) => (i === index ? next : old)))}
          onRemove={() => set(step.after.filter((_, i) => i !== index))}
        />
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

function Wait(props: {
  readonly draft: OpenDraft;
  readonly form: Form<Step>;
  readonly entry: After;
  readonly index: number;
  readonly onChange: (entry: After) => void;
  readonly onRemove: () => void;
}) {
  const { entry, index, onChange } = props;
  const { protocol } = props.draft;
  const { value: step, problems } = props.form;
  const others = protocol.steps.filter((other) => other.id !== step.id);
  const name = nameOfStep(protocol.steps, entry.step);
  const setEdge = (edge: string): void =>
    onChange(withField(entry, 'edge', edge === 'start' ? 'start' : undefined));
  const edge: Edge = entry.edge ?? 'end';
  return (
    <div className="editor-one">
      <div className="editor-void">
        <EntryFields
          part="after"
          keys={['step', 'link']}
          entry={entry}
          set={(key, value) => onChange(withField(entry, key, value))}
          problemAt={(key) => problems.at(`after[${index}].${key}`)}
          choices={{ step: stepChoices(protocol.steps, others) }}
          compact
        />
        <SelectField
          label={stepFormWords.edgeLabel}
          value={edge}
          options={choicesOf(EDGES, stepFormWords.edge)}
          problem={problems.at(`after[${index}].edge`)}
          onChange={setEdge}
        />
        <Button rank="quiet" name={editorWords.named.remove(name)} onPress={props.onRemove}>
          {editorWords.remove}
        </Button>
      </div>
      {entry.where === undefined ? (
        <Button
          rank="quiet"
          name={stepFormWords.addWhereName(name)}
          onPress={() => onChange({ ...entry, where: [firstCondition()] })}
        >
          {stepFormWords.addWhere}
        </Button>
      ) : (
        <WhereFields
          legend={stepFormWords.waitOnlyWhere(name)}
          protocol={protocol}
          where={entry.where}
          problems={problems}
          place={`after[${index}].where`}
          onChange={(where) => onChange(withField(entry, 'where', where))}
        />
      )}
    </div>
  );
}
