/** The readings of each light against its own baseline. */
import { pluralIn } from '../grammar.ts';

const plural = pluralIn('en');

export const lightLog = {
  lede: 'Readings of each light with the same instrument, against its own baseline.',
  add: 'Enter a reading',
  none: 'No readings yet',
  noneTodo: 'Read the light with its sleeve on and enter what the instrument shows.',
  light: 'Light',
  lightHint: 'Its name in the cases, such as “Light A”.',
  instrument: 'Instrument',
  instrumentHint: 'The same one each time: two instruments do not agree.',
  value: 'Reading',
  unit: 'mW/cm²',
  on: 'Read on',
  baseline: 'This is the baseline from now on',
  baselineNote: 'New light, new tip, or after service.',
  note: 'Note',
  save: 'Save',
  remove: 'Remove',
  removeName: (on: string): string => `Remove the reading of ${on}`,
  isBaseline: 'baseline',
  drift: 'Drift',
  last: 'Last reading',
  baselineFact: 'Baseline',
  lastFact: (o: { readonly value: string; readonly on: string; readonly with: string }): string =>
    `${o.value} on ${o.on}, ${o.with}`,
  fall: 'At least a fifth below its own baseline. Service is due (common practice, no source).',
  otherInstrument: 'The readings come from more than one instrument. Two instruments do not agree.',
  chart: (o: { readonly light: string; readonly count: number; readonly drift: string }): string =>
    plural(o.count, {
      one: `${o.light}: 1 reading against the baseline, last ${o.drift}`,
      other: `${o.light}: ${o.count} readings over time against the baseline, last ${o.drift}`,
    }),
  point: (o: { readonly on: string; readonly value: string; readonly change: string }): string =>
    `${o.on}: ${o.value}, ${o.change}`,
  /** A rise, whose sign a plain number does not carry. */
  rise: (percent: string): string => `+${percent}`,
  readings: 'Readings',
  columns: { on: 'Read on', value: 'Reading', drift: 'Against baseline', with: 'Instrument' },
  withNote: (o: { readonly instrument: string; readonly note: string }): string =>
    `${o.instrument}, ${o.note}`,
  problems: {
    light: 'Name the light.',
    instrument: 'Name the instrument.',
    value: (o: { readonly min: number; readonly max: number }): string =>
      `Enter a number from ${o.min} to ${o.max}.`,
    on: 'This is not a date, or it lies in the future.',
  },
};
