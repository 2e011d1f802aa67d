/** What leads to the page of the clinic's tablets: from the clinic page, and from Today where something waits. */
import { pluralIn } from '../grammar.ts';

const plural = pluralIn('en');

export const sharingLink = {
  title: 'Tablets',
  lede: 'Several tablets of one clinic, which show one another’s cases, materials and protocols.',
  link: 'Tablets of the clinic',
  notice: 'Something waits at the tablets of the clinic',
  notices: {
    conflicts: (count: number): string =>
      plural(count, {
        one: 'Two tablets tell one thing differently.',
        other: `Two tablets tell ${count} things differently.`,
      }),
    putOut: 'This tablet was put out of the clinic’s store.',
    notLetIn: 'The store does not let this tablet in.',
    box: 'The lead’s box is on no paper and in no backup of this tablet.',
    refused: (count: number): string =>
      plural(count, {
        one: '1 message in the store does not hold.',
        other: `${count} messages in the store do not hold.`,
      }),
    wentBack: 'The store went back to an older state.',
  },
  see: 'See the tablets',
  seeConflicts: 'See both',
};
