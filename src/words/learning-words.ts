/** Words of the page that tells what the clinic's own records say. */
import { formatWords } from './duration.ts';

export const learningWords = {
  title: 'Learning',
  lede: 'How long steps really took here. It says nothing about how long a material needs.',
  protocol: 'Protocol',
  records: 'Records of',
  mode: { patient: 'Patient cases', rehearsal: 'Rehearsals' },
  reading: 'Reading the records',
  none: 'No record of this kind on this tablet yet',
  noneTodo: 'Run a case with this protocol; its record will be read here.',
  from: (n: number): string => (n === 1 ? 'From one record.' : `From ${n} records.`),
  steps: 'Steps',
  stepsLede:
    'Filled to the median, dotted to the 90th percentile; the line is what the plan expects of the hands.',
  windows: 'Windows',
  windowsLede: 'Filled to the median, dotted to the 90th percentile of how long each stood open.',
  step: 'Step',
  hands: 'Hands',
  took: 'Took',
  expected: 'Expected now',
  people: 'By person',
  spread: (o: {
    readonly medianMs: number;
    readonly p90Ms: number;
    readonly count: number;
  }): string => `${formatWords(o.medianMs)}, slow ${formatWords(o.p90Ms)} (${o.count})`,
  noSpread: 'none',
  use: 'Use as expected duration',
  nameOfUse: (title: string): string => `Use the hands of ${title} as its expected duration`,
  noteOfUse:
    'Opens a draft in which only the expected pace of the hands changes. Bounds, coats and light are never proposed from records.',
  note: (o: { readonly count: number; readonly cases: number; readonly on: string }): string =>
    `from ${o.count} of the clinic’s own steps in ${o.cases} cases, ${o.on}`,
  noWindows: 'No window was opened and closed yet',
  window: 'Window',
  broken: 'Broken',
  brokenIn: (o: { readonly broken: number; readonly cases: number }): string =>
    `${o.broken} of ${o.cases} cases`,
  worst: 'Furthest outside',
  where: 'Where',
  whereWords: (o: { readonly from: string; readonly to: string; readonly on: string }): string =>
    o.on === '' ? `${o.from} to ${o.to}` : `${o.from} to ${o.to}, on ${o.on}`,
  gauge: (title: string): string => `${title}, own records`,
} as const;
