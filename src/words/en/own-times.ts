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
  note: (o: { readonly count: number; readonly cases: number; readonly on: string }): string =>
    plural(o.cases, {
      one: `from ${o.count} of the clinic’s own steps in 1 case, ${o.on}`,
      other: `from ${o.count} of the clinic’s own steps in ${o.cases} cases, ${o.on}`,
    }),
  noWindows: 'No window was opened and closed yet',
  window: 'Window',
  wasOpen: 'Was open',
  broken: 'Broken',
  brokenIn: (o: { readonly broken: number; readonly cases: number }): string =>
    plural(o.cases, {
      one: `${o.broken} of 1 case`,
      other: `${o.broken} of ${o.cases} cases`,
    }),
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
