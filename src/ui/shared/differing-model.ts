/** A field on which two tablets differ, in the words in which the entry tells it. Pure. */
import { fieldsOf } from '../../base/json.ts';
import type { Differing } from '../../runtime/stock/stock-facts.ts';
import type { Material } from '../../runtime/stock/stock-types.ts';
import type { Times } from '../../words/date-words.ts';
import { stockWords } from '../../words/material-stock-words.ts';
import { stockHistoryWords } from '../../words/stock-history-words.ts';

type Field = Exclude<keyof Material, 'id' | 'recalled' | 'goneOnWallMs'>;

const LABEL: Readonly<Record<Field, keyof typeof stockWords.facts>> = {
  materialClass: 'class',
  label: 'label',
  lot: 'lot',
  expiry: 'expiry',
  openedOn: 'opened',
  useWithinDays: 'within',
  refrigerated: 'fridge',
  warmUpMinutes: 'warm',
  takenOutWallMs: 'out',
  deviceIdentifier: 'device',
  serial: 'serial',
  scanned: 'entry',
  note: 'note',
};

const isField = (field: string): field is Field => Object.hasOwn(LABEL, field);

function valueTold(field: Field, value: unknown, times: Times): string {
  if (field === 'refrigerated') return value === true ? stockWords.refrigerated : stockWords.room;
  if (field === 'scanned') {
    const issuer = fieldsOf(value)['issuer'];
    return typeof issuer === 'string' ? stockWords.byCode(issuer) : stockWords.byHand;
  }
  if (typeof value === 'number') {
    if (field === 'takenOutWallMs') return times.moment(value);
    if (field === 'useWithinDays') return stockWords.withinDays(value);
    if (field === 'warmUpMinutes') return stockWords.warmUp(value);
  }
  if (typeof value !== 'string') return stockWords.nothing;
  return field === 'expiry' || field === 'openedOn' ? times.dateOf(value) : value;
}

export function differingWords({ field, values }: Differing, times: Times): string {
  if (!isField(field)) return '';
  const told = values.map((value) => valueTold(field, value, times));
  return stockWords.differs({ field: stockWords.facts[LABEL[field]], values: told });
}

/** One field as it was written; empty for one that an entry does not show. */
export function fieldWords(field: string, value: unknown, times: Times): string {
  if (!isField(field)) return '';
  const told = { field: stockWords.facts[LABEL[field]], value: valueTold(field, value, times) };
  return stockHistoryWords.field(told);
}

/** A field by its name and one of its values, apart; null for one that an entry does not show. */
export function fieldTold(
  field: string,
  value: unknown,
  times: Times,
): { readonly label: string; readonly value: string } | null {
  if (!isField(field)) return null;
  return { label: stockWords.facts[LABEL[field]], value: valueTold(field, value, times) };
}
