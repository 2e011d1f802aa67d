/** The conditions of a form: what each can ask about, and what it can be answered with. */
import { unreachable } from '../../../base/assert.ts';
import { flatConditions } from '../../../protocol/conditions.ts';
import type { Fact, Where } from '../../../protocol/facts.ts';
import type { Protocol } from '../../../protocol/types.ts';
import {
  CONDITIONED,
  FACTS,
  OPACITIES,
  PROVISIONALS,
  SUBSTRATES,
} from '../../../protocol/vocabulary.ts';
import { conditionWords, factValue } from '../../../words/condition-words.ts';
import { familyWords } from '../../../words/family-words.ts';
import { materialOptions, restorationOptions } from '../../../words/material-words.ts';

interface Option {
  readonly value: string;
  readonly label: string;
}

type Choices = Pick<Protocol, 'choices'>;

const THICKNESS = 'thickness';
const ANY = 'any';

/** What a condition asks about, as one word that tells it from the others. */
export function askedBy(where: Where): string {
  if ('anyOf' in where) return ANY;
  if ('overMm' in where) return THICKNESS;
  return 'choice' in where ? `choice ${where.choice}` : `fact ${where.fact}`;
}

const capital = (text: string): string => text.slice(0, 1).toUpperCase() + text.slice(1);

/** Everything that a condition can ask about; `where` itself also when the protocol lost its choice. */
export function askable(
  { choices = [] }: Choices,
  o: { readonly where: Where; readonly isInside: boolean },
): readonly Option[] {
  const { asksThickness, asksChoice, asksAny } = familyWords.condition;
  const facts = FACTS.map((fact) => ({
    value: `fact ${fact}`,
    label: capital(conditionWords.facts[fact]),
  }));
  const known = choices.map(({ id, title }) => ({
    value: `choice ${id}`,
    label: asksChoice(title),
  }));
  const { where } = o;
  const isLost = 'choice' in where && choices.every(({ id }) => id !== where.choice);
  const lost = isLost ? [{ value: askedBy(where), label: asksChoice(where.choice) }] : [];
  const any = o.isInside ? [] : [{ value: ANY, label: asksAny }];
  return [...facts, { value: THICKNESS, label: asksThickness }, ...known, ...lost, ...any];
}

/** A condition that asks about this, and has no answer yet. */
export function conditionOn(asked: string): Where {
  const [kind = '', id = ''] = asked.split(' ');
  if (kind === ANY) return { anyOf: [firstCondition()] };
  // No number: the parser says at the field that one is wanted.
  if (kind === THICKNESS) return { overMm: Number.NaN };
  if (kind === 'choice') return { choice: id, is: [] };
  return { fact: FACTS.find((fact) => fact === id) ?? 'substrate', is: [] };
}

export function firstCondition(): Where {
  return { fact: 'substrate', is: [] };
}

const valued = (fact: Fact, values: readonly string[]): readonly Option[] =>
  values.map((value) => ({ value, label: factValue(fact, value) }));

function known(fact: Fact): readonly Option[] {
  switch (fact) {
    case 'substrate':
      return valued(fact, SUBSTRATES);
    case 'provisional':
      return valued(fact, PROVISIONALS);
    case 'conditioned':
      return valued(fact, CONDITIONED);
    case 'opacity':
      return valued(fact, OPACITIES);
    case 'material':
      return materialOptions('');
    case 'restoration':
      return restorationOptions('');
    case 'pontics':
      return valued(fact, ['yes', 'no']);
    default:
      return unreachable(fact);
  }
}

export type Answered = Extract<Where, { readonly fact: Fact } | { readonly choice: string }>;

/** The values that a condition holds for. */
export const answersOf = (where: Answered): readonly string[] =>
  'isNot' in where ? where.isNot : where.is;

/** Whether every condition has its answer; one without says so in its own place. */
export function isAnswered(where: readonly Where[]): boolean {
  return flatConditions(where).every((each) =>
    'overMm' in each ? each.overMm >= 0 : answersOf(each).length > 0,
  );
}

/** What can be answered; what a file brought along stays on the list. */
export function answerable(where: Answered, { choices = [] }: Choices): readonly Option[] {
  const options =
    'fact' in where
      ? known(where.fact)
      : (choices.find(({ id }) => id === where.choice)?.options ?? []).map(({ id, label }) => ({
          value: id,
          label,
        }));
  const isListed = (value: string): boolean => options.some((option) => option.value === value);
  const strange = answersOf(where).filter((value) => !isListed(value));
  return [...options, ...strange.map((value) => ({ value, label: value }))];
}

function withAnswers(where: Answered, answers: readonly string[]): Answered {
  return 'isNot' in where ? { ...where, isNot: answers } : { ...where, is: answers };
}

/** A value more or less; a new one stands last, so that they come in the order they were chosen. */
export function toggled(where: Answered, value: string): Answered {
  const had = answersOf(where);
  const others = had.filter((other) => other !== value);
  return withAnswers(where, others.length < had.length ? others : [...others, value]);
}

/** The same question answered with these values, or with any but these. */
export function turned(where: Extract<Where, { readonly fact: Fact }>, way: 'is' | 'isNot'): Where {
  const { fact } = where;
  const answers = answersOf(where);
  return way === 'is' ? { fact, is: answers } : { fact, isNot: answers };
}
