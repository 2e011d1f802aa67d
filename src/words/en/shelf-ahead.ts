/** What runs out before the prepared cases. */
import { listIn, pluralIn } from '../grammar.ts';

const plural = pluralIn('en');
const list = listIn('en-GB');

interface LotUntil {
  readonly label: string;
  readonly lot: string;
  readonly day: string;
}

export const shelfAhead = {
  title: 'Before the prepared cases',
  lede: 'What will be missing, or past its last day, on the day of each case.',
  undated: 'no date, as of today',
  missing: (o: { readonly label: string; readonly materialClass: string }): string =>
    `${o.label}: no lot of class “${o.materialClass}” will do`,
  usedUp: (o: { readonly label: string; readonly materialClass: string }): string =>
    `${o.label}: the last of class “${o.materialClass}” is used up`,
  unlisted: (labels: readonly string[]): string => `Not on the list: ${list(labels)}`,
  neverListed: (count: number): string =>
    plural(count, { one: 'Never listed: 1 case', other: `Never listed: ${count} cases` }),
  noneLeft: (label: string): string => `${label}: optional, and no lot will do`,
  untold: 'Cannot be told: the protocol of this case is not in force here',
  another: (label: string): string => `${label}: another lot will do`,
  lots: {
    recalled: (o: LotUntil): string => `${o.label}, lot ${o.lot}: recalled`,
    expired: (o: LotUntil): string => `${o.label}, lot ${o.lot}: expires ${o.day}`,
    'opened-too-long': (o: LotUntil): string => `${o.label}, lot ${o.lot}: opened, use by ${o.day}`,
  },
  lacking: (count: number): string =>
    plural(count, {
      one: '1 prepared case lacks a material on its day',
      other: `${count} prepared cases lack a material on their day`,
    }),
};
