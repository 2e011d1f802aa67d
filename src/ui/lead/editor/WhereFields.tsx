import { useState } from 'react';
import type { Where } from '../../../protocol/facts.ts';
import type { Protocol } from '../../../protocol/types.ts';
import { editorWords } from '../../../words/editor-words.ts';
import { familyWords } from '../../../words/family-words.ts';
import { Button } from '../../parts/Button.tsx';
import { SelectField, TextField } from '../../parts/Field.tsx';
import { MultiSegmented, Segmented } from '../../parts/Segmented.tsx';
import { choicesOf } from '../../shared/choices.ts';
import { FieldProblem } from './EntryFields.tsx';
import type { FormProblems } from './editor-form-problems.ts';
import {
  type Answered,
  answerable,
  answersOf,
  askable,
  askedBy,
  conditionOn,
  firstCondition,
  isAnswered,
  toggled,
  turned,
} from './where-model.ts';

type Choices = Pick<Protocol, 'choices'>;

/** Conditions on what the case file says, of which all must hold. */
export function WhereFields(props: {
  /** Names the group, so that it is told from other conditions of the same form. */
  readonly legend: string;
  readonly protocol: Choices;
  readonly where: readonly Where[] | undefined;
  readonly problems: FormProblems;
  /** Where the conditions stand inside the entry: `where`, `after[0].where`. */
  readonly place: string;
  /** Undefined once the last condition is gone. */
  readonly onChange: (where: readonly Where[] | undefined) => void;
}) {
  const { where = [], onChange } = props;
  const words = familyWords.condition;
  return (
    <fieldset className="editor-waits">
      <legend>{props.legend}</legend>
      <p className="lw-aside">{where.length === 0 ? words.none : words.all}</p>
      <Conditions
        {...props}
        list={where}
        within=""
        onChange={(next) => onChange(next.length === 0 ? undefined : next)}
      />
      <Button onPress={() => onChange([...where, firstCondition()])}>{words.add}</Button>
      <FieldProblem words={isAnswered(where) ? props.problems.at(props.place) : undefined} />
    </fieldset>
  );
}

interface ListProps {
  readonly protocol: Choices;
  readonly list: readonly Where[];
  /** Number of the condition that these stand in, with its full stop; empty at the top. */
  readonly within: string;
  readonly onChange: (list: readonly Where[]) => void;
}

function Conditions({ protocol, list, within, onChange }: ListProps) {
  return list.map((where, index) => (
    <Condition
      // Two conditions may be the same: only the place tells them apart.
      // biome-ignore lint/suspicious/noArrayIndexKey: the fields are controlled by the list.
      key={index}
      protocol={protocol}
      where={where}
      place={`${within}${index + 1}`}
      isInside={within !== ''}
      onChange={(next) => onChange(list.map((old, i) => (i === index ? next : old)))}
      onRemove={() => onChange(list.filter((_, i) => i !== index))}
    />
  ));
}

interface ConditionProps {
  readonly protocol: Choices;
  readonly where: Where;
  /** "2", or "2.1" inside another one. */
  readonly place: string;
  readonly isInside: boolean;
  readonly onChange: (where: Where) => void;
  readonly onRemove: () => void;
}

function Condition(props: ConditionProps) {
  const { protocol, where, place, isInside, onChange } = props;
  const words = familyWords.condition;
  return (
    <fieldset className="editor-condition">
      <legend>{words.one(place)}</legend>
      <div className="editor-condition-head">
        <SelectField
          label={words.asks}
          value={askedBy(where)}
          options={askable(protocol, { where, isInside })}
          onChange={(asked) => onChange(conditionOn(asked))}
        />
        <Button
          rank="quiet"
          name={editorWords.named.remove(words.one(place))}
          onPress={props.onRemove}
        >
          {editorWords.remove}
        </Button>
      </div>
      {'overMm' in where && <Thickness where={where} onChange={onChange} />}
      {'anyOf' in where && <AnyOf {...props} list={where.anyOf} />}
      {('fact' in where || 'choice' in where) && (
        <Answers protocol={protocol} where={where} onChange={onChange} />
      )}
    </fieldset>
  );
}

function AnyOf(props: ConditionProps & { readonly list: readonly Where[] }) {
  const { protocol, list, place, onChange } = props;
  return (
    <div className="editor-condition-inner">
      <Conditions
        protocol={protocol}
        list={list}
        within={`${place}.`}
        onChange={(anyOf) => onChange({ anyOf })}
      />
      <Button onPress={() => onChange({ anyOf: [...list, firstCondition()] })}>
        {familyWords.condition.addTo(place)}
      </Button>
    </div>
  );
}

const WAYS = ['is', 'isNot'] as const;

function Answers(props: {
  readonly protocol: Choices;
  readonly where: Answered;
  readonly onChange: (where: Where) => void;
}) {
  const { protocol, where, onChange } = props;
  const words = familyWords.condition;
  const answers = answersOf(where);
  return (
    <>
      {'fact' in where && (
        <Segmented
          label={words.holds}
          value={'isNot' in where ? 'isNot' : 'is'}
          options={choicesOf(WAYS, words)}
          onChange={(way) => onChange(turned(where, way))}
        />
      )}
      <MultiSegmented
        label={words.values}
        values={answers}
        options={answerable(where, protocol)}
        onToggle={(value) => onChange(toggled(where, value))}
      />
      <FieldProblem words={answers.length === 0 ? words.valuesMissing : undefined} />
    </>
  );
}

/** The number is kept as it was typed, so that "0." can become "0.5". */
function Thickness(props: {
  readonly where: { readonly overMm: number };
  readonly onChange: (where: Where) => void;
}) {
  const { overMm } = props.where;
  const said = Number.isNaN(overMm) ? '' : String(overMm);
  const [typed, setTyped] = useState(said);
  const read = (text: string): number =>
    text.trim() === '' ? Number.NaN : Number(text.replace(',', '.'));
  const text = Object.is(read(typed), overMm) ? typed : said;
  return (
    <TextField
      label={familyWords.condition.over}
      unit="mm"
      width="short"
      inputMode="decimal"
      value={text}
      problem={overMm >= 0 ? undefined : familyWords.condition.overMissing}
      onChange={(next) => {
        setTyped(next);
        props.onChange({ overMm: read(next) });
      }}
    />
  );
}
