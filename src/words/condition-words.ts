/** Conditions of a protocol in words, and the values that a case file answers with. */
import { unreachable } from '../base/assert.ts';
import type { Fact, Where } from '../protocol/facts.ts';
import type { Protocol } from '../protocol/types.ts';
import { condition } from './en/condition.ts';
import { spoken } from './language.ts';
import { materialForms, restorationForms } from './material-words.ts';
import { formatQuantity } from './number.ts';

export const conditionWords = spoken('condition', condition);

const known = (table: Readonly<Record<string, string>>, value: string): string =>
  Object.hasOwn(table, value) ? (table[value] ?? value) : value;

/** A value of a fact as people read it: `dentine-shows` is "Dentine shows". */
export function factValue(fact: Fact, value: string): string {
  switch (fact) {
    case 'substrate':
      return known(conditionWords.substrates, value);
    case 'provisional':
      return known(conditionWords.provisionals, value);
    case 'conditioned':
      return known(conditionWords.conditioned, value);
    case 'opacity':
      return known(conditionWords.opacities, value);
    case 'material':
      return materialForms(value).alone;
    case 'restoration':
      return restorationForms(value).alone;
    case 'pontics':
      return value === 'yes' ? conditionWords.yes : conditionWords.no;
    default:
      return unreachable(fact);
  }
}

function single(where: Where, protocol: Pick<Protocol, 'choices'>): string {
  if ('anyOf' in where)
    return conditionWords.any(where.anyOf.map((each) => single(each, protocol)));
  if ('overMm' in where) {
    const { overMm: value } = where;
    // A limit of 0.49 mm is not told as 0.5 mm.
    const digits = Number.isInteger(value * 10) ? 1 : 2;
    return conditionWords.over(formatQuantity({ value, unit: 'mm', digits }));
  }
  if ('choice' in where) {
    const choice = protocol.choices?.find(({ id }) => id === where.choice);
    const label = (id: string) => choice?.options.find((o) => o.id === id)?.label ?? id;
    return conditionWords.chosen({
      title: choice?.title ?? where.choice,
      options: where.is.map(label),
    });
  }
  const said = 'is' in where ? where.is : where.isNot;
  const values = said.map((value) => factValue(where.fact, value));
  const told = { fact: conditionWords.facts[where.fact], values };
  return 'is' in where ? conditionWords.factIs(told) : conditionWords.factIsNot(told);
}

/** All conditions of a list as one line; empty where there is none. */
export function whereWords(
  where: readonly Where[] | undefined,
  protocol: Pick<Protocol, 'choices'>,
): string {
  if (where === undefined || where.length === 0) return '';
  return conditionWords.all(where.map((each) => single(each, protocol)));
}
