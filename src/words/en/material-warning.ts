/** What speaks against a lot, in one line each. */
import type { MaterialWarning } from '../codes.ts';
import { pluralIn } from '../grammar.ts';

const plural = pluralIn('en');

export const materialWarning = {
  recalled: 'Recalled',
  recalledWhy: (reason: string): string => `Recalled: ${reason}`,
  expired: (days: number): string =>
    plural(days, { one: 'Expired 1 day ago', other: `Expired ${days} days ago` }),
  openedTooLong: (days: number): string =>
    plural(days, { one: 'Open 1 day too long', other: `Open ${days} days too long` }),
  /** Nobody entered that it was taken out. */
  notTakenOut: 'Not entered as taken out of the refrigerator',
  stillCold: (minutes: number): string => `Still cold, ${minutes} min to go`,
  /** What was said about a lot when it was named. */
  whenNamed: {
    recalled: 'Recalled when it was named',
    expired: 'Expired when it was named',
    'opened-too-long': 'Open too long when it was named',
    'still-cold': 'Still cold when it was named',
  } satisfies Record<MaterialWarning['code'], string>,
  /** Several of these after each other. */
  all: (lines: readonly string[]): string => lines.join('. '),
};
