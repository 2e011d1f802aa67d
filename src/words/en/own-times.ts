/** Words of the page that tells what the clinic's own records say about time. */
import { listIn, pluralIn } from '../grammar.ts';

const plural = pluralIn('en');
const list = listIn('en-GB');

export const ownTimes = {
  title: 'Our own times',
  lede: 'How long steps really took here. It says nothing about how long a material needs.',
  protocol: 'Protocol',
  records: 'Records of',
  mode: { patient: 'Patient cases', rehearsal: 'Rehearsals' },
  reading: 'Reading the records',
  none: 'No record of this kind on this tablet yet',
  noneTodo: 'Run a case with this protocol. Its record will be read here.',
  from: (count: number): string =>
    plural(count, { one: 'From 1 record.', other: `From ${count} records.` }),
  steps: 'Steps',
  stepsLede:
    'Filled to the median, dotted to the 90th percentile. The line is what the plan expects of the hands.',
  windows: 'Windows',
  windowsLede: 'Filled to the median, dotted to the 90th percentile of how long each was open.',
  step: 'Step',
  hands: 'Hands',
  took: 'Took',
  expected: 'Expected now',
  /** A press that takes a fixed time, and more for each subject that it stands for. */
  expectedEach: (o: { readonly fixed: string; readonly each: string }): string =>
    `${o.fixed}, and ${o.each} for each`,
  people: 'By person',
  ofPerson: (o: { readonly hands: string; readonly took: string }): string =>
    `Hands: ${o.hands}; took: ${o.took}`,
  spread: (o: { readonly median: string; readonly p90: string; readonly count: number }): string =>
    `${o.median}, slow ${o.p90} (${o.count})`,
  noSpread: 'none',
  use: 'Use as expected time',
  nameOfUse: (title: string): string => `Use as expected time: the hands of ${title}`,
  noteOfUse:
    'Opens a draft in which only the expected pace of the hands changes. Limits, coats and light are never proposed from records.',
  takeAll: (steps: number): string =>
    plural(steps, {
      one: 'Take over the pace of 1 step',
      other: `Take over the paces of ${steps} steps`,
    }),
  takeNone: (min: number): string =>
    `No step has ${min} presses yet. Fewer say little about a pace.`,
  takeNote: (min: number): string =>
    `Steps with fewer than ${min} presses stay as they are. A press that stood for several units counts once.`,
  failed: 'The paces could not be put into the draft.',
  note: (o: {
    readonly count: number;
    readonly cases: number;
    readonly days: number;
    readonly first: string;
    readonly last: string;
    readonly median: string;
    readonly p90: string;
    readonly least: string;
    readonly most: string;
    readonly on: string;
  }): string => {
    const presses = plural(o.count, { one: '1 press', other: `${o.count} presses` });
    const cases = plural(o.cases, { one: '1 case', other: `${o.cases} cases` });
    const days = plural(o.days, {
      one: `on 1 day, ${o.first}`,
      other: `on ${o.days} days, ${o.first} to ${o.last}`,
    });
    return `own records: ${presses} in ${cases} ${days}; median ${o.median}, 90th percentile ${o.p90}, from ${o.least} to ${o.most}; taken over ${o.on}`;
  },
  noteSpreadKept: (note: string): string =>
    `${note}; too few for a slow time of their own, so the earlier spread is kept`,
  noWindows: 'No window was opened and closed yet',
  window: 'Window',
  wasOpen: 'Was open',
  broken: 'Broken',
  brokenIn: (o: { readonly broken: number; readonly cases: number }): string =>
    plural(o.cases, {
      one: `${o.broken} of 1 case`,
      other: `${o.broken} of ${o.cases} cases`,
    }),
  perhapsIn: (cases: number): string =>
    plural(cases, { one: 'may be 1 more', other: `may be ${cases} more` }),
  worst: 'Furthest outside',
  where: 'Where',
  fromTo: (o: { readonly from: string; readonly to: string }): string => `${o.from} to ${o.to}`,
  fromToOn: (o: {
    readonly from: string;
    readonly to: string;
    readonly on: readonly string[];
  }): string => `${o.from} to ${o.to}, on ${list(o.on)}`,
  gauge: (title: string): string => `${title}, own records`,
};
