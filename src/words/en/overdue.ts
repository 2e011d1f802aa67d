/** Words of the banner about numbers whose review is due; apart, because every page may show it. */
import { listIn, pluralIn } from '../grammar.ts';

const plural = pluralIn('en');
const list = listIn('en-GB');

export const overdue = {
  overdue: (o: { readonly count: number; readonly protocol: string }): string =>
    plural(o.count, {
      one: `1 number is due for review: ${o.protocol}`,
      other: `${o.count} numbers are due for review: ${o.protocol}`,
    }),
  overdueMore: (titles: readonly string[]): string =>
    `${list(titles)}. Compare with the newest instructions, then confirm a new revision.`,
  open: 'The lead’s desk',
};
