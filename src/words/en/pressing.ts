/** Words of the lead's desk for how a step is pressed, and how closely its limits are judged then. */
import type { Pressing } from '../../protocol/types.ts';
import { listIn, pluralIn } from '../grammar.ts';

const plural = pluralIn('en');
const list = listIn('en-GB');
const quoted = (titles: readonly string[]): string => list(titles.map((title) => `“${title}”`));

export const pressing = {
  title: 'How it is pressed',
  ways: {
    each: 'One press for each',
    list: 'A line of a list',
    sweep: 'A sweep',
    implied: 'Said by a later press',
    paced: 'Paced light',
  } satisfies Record<Pressing['kind'] | 'each', string>,
  about: {
    each: 'Each is pressed for itself, or once for the round where the step is done together.',
    list: 'One press takes every line of the list that is ticked or answered. The rest stays due.',
    sweep: 'One press, as the hands begin to go over the round in order.',
    implied: 'A later press says that this is done too. It can still be pressed for itself.',
    paced:
      'One press begins a pass over several places, tones lead through it, and one press confirms it.',
  } satisfies Record<Pressing['kind'] | 'each', string>,
  aboutCoats: 'The press of the last coat also records the coats between the first and the last.',
  shipped: 'As shipped',
  numbersElsewhere: 'How long each one takes is set under Numbers, with its basis.',
  list: 'List',
  by: 'Said by the press of',
  confirmedBy: 'Confirmed by',
  ownPress: 'A press of its own',
  atStart: 'At the start',
  atEnd: 'At the end',
  noLimit: 'No limit begins or ends here.',
  between: (o: { readonly min: string; readonly max: string }): string => `${o.min} to ${o.max}`,
  atLeast: (min: string): string => `at least ${min}`,
  atMost: (max: string): string => `at most ${max}`,
  limit: (o: { readonly title: string; readonly range: string }): string =>
    `${o.title}, ${o.range}`,
  judged: (o: { readonly limit: string; readonly how: string }): string => `${o.limit}: ${o.how}.`,
  lost: (limit: string): string => `Can no longer be judged: ${limit}.`,
  exact: 'exact to the press',
  atList: (title: string): string => `at the press of “${title}”`,
  swept: (o: { readonly two: string; readonly four: string }): string =>
    `to within ${o.two} for the last of two, ${o.four} for the last of four`,
  implied: (o: { readonly since: readonly string[]; readonly by: readonly string[] }): string =>
    o.since.length === 0
      ? `before the press of ${quoted(o.by)}`
      : `between ${quoted(o.since)} and the press of ${quoted(o.by)}`,
  paced: (change: string): string => `to within the change-over of ${change}`,
  rounds: (count: number): string =>
    plural(count, {
      one: '“kept” can be said of one at a time only',
      other: `“kept” can be said of rounds of up to ${count}`,
    }),
  and: (parts: readonly string[]): string => parts.join('; '),
  // In a difference
  now: {
    list: (title: string): string => `a line of “${title}”`,
    sweepStart: (each: string): string => `a sweep at the start, ${each} for each`,
    sweepEnd: (each: string): string => `a sweep at the end, ${each} for each`,
    implied: (titles: readonly string[]): string => `said by ${quoted(titles)}`,
    coats: 'a press for the first and the last coat',
    paced: (change: string): string => `paced, change-over ${change}`,
    pacedBy: (o: { readonly change: string; readonly by: string }): string =>
      `paced, change-over ${o.change}, confirmed by “${o.by}”`,
  },
  // The lists of a protocol
  lists: 'Lists',
  listsLede: 'Lines that are pressed together at one natural pause, in the order of the steps.',
  addList: 'Add a list',
  newList: 'New list',
  listSheet: (title: string): string => `List: ${title}`,
  listRow: (o: { readonly title: string; readonly words: string }): string =>
    `${o.title}: ${o.words}`,
  lines: 'Its lines',
  noLines: 'No lines',
  linesAre: (titles: readonly string[]): string => list(titles),
};
