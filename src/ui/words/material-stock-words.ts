/** Words of the stock list, of scanning and of the light log. */
import type { Problem } from '../../base/problem.ts';
import type { MaterialWarning } from '../../runtime/stock-warnings.ts';

const days = (count: number): string => (count === 1 ? '1 day' : `${count} days`);

/** One line for what speaks against using a lot now. */
export function warningWords(warning: MaterialWarning): string {
  switch (warning.code) {
    case 'recalled':
      return warning.reason === '' ? 'Recalled' : `Recalled: ${warning.reason}`;
    case 'expired':
      return `Expired ${days(warning.days)} ago`;
    case 'opened-too-long':
      return `Opened too long, by ${days(warning.days)}`;
    case 'still-cold':
      return warning.minutes === null
        ? 'In the refrigerator'
        : `Still cold for ${warning.minutes} min`;
  }
}

export const stockWords = {
  title: 'Materials',
  lede: 'What is on the shelf, by generic class, with lot and expiry.',
  tabs: 'Part of this page',
  stock: 'Stock',
  light: 'Light',
  add: 'Add by hand',
  scan: 'Scan a label',
  search: 'Find',
  searchHint: 'Class, label or lot',
  none: 'Nothing is on the list yet',
  noneTodo: 'Scan the label of a box, or add it by hand.',
  noneFound: 'Nothing on the list fits.',
  gone: 'Used up',
  goneShow: 'Show what is used up',
  lot: 'Lot',
  noLot: 'No lot',
  expires: 'Expires',
  opened: 'Opened',
  lastDay: (day: string): string => `use by ${day}`,
  notOpened: 'not opened',
  noExpiry: 'no expiry date',
  good: 'Nothing speaks against it',
  soon: (count: number): string =>
    count === 0 ? 'Expires today' : count === 1 ? 'Expires tomorrow' : `Expires in ${count} days`,
  openName: (label: string, lot: string): string => `${label}, lot ${lot}`,
  damaged: (count: number): string =>
    count === 1 ? '1 entry cannot be read' : `${count} entries cannot be read`,
  notKept: 'This was not kept.',
  missing: 'This material is not on the list',
  back: 'All materials',
  edit: 'Change the entry',
  openedToday: 'Opened today',
  takenOut: 'Taken out of the refrigerator now',
  usedUp: 'Used up or thrown away',
  notUsedUp: 'Back on the shelf',
  remove: 'Remove the entry',
  removeNote: 'For an entry made by mistake. Cases that named the lot keep it.',
  recall: 'Mark as recalled',
  recallReason: 'Why, and on whose word',
  recallDo: 'Mark this lot',
  recallNote: 'Every entry with this lot is marked, and the chair says so when it is chosen.',
  recallEnd: 'Take the recall mark away',
  recalled: (o: { readonly on: string; readonly reason: string }): string => `${o.on}. ${o.reason}`,
  cases: 'Cases that used this lot',
  noCases: 'No case on this tablet named this lot.',
  casesReading: (o: { readonly done: number; readonly of: number }): string =>
    `Reading the cases: ${o.done} of ${o.of}`,
  caseSteps: (steps: string): string => `for ${steps}`,
  entry: 'Entry',
  facts: {
    class: 'Class',
    label: 'Own label',
    lot: 'Lot',
    expiry: 'Expiry date',
    opened: 'Opened on',
    within: 'After opening',
    fridge: 'Keeping',
    warm: 'Warm-up',
    device: 'Device identifier',
    serial: 'Serial number',
    entry: 'Entered',
    note: 'Note',
    recalled: 'Recalled',
  },
  withinDays: (count: number): string => `to be used within ${days(count)}`,
  refrigerated: 'Refrigerated',
  room: 'At room temperature',
  warmUp: (minutes: number): string => `${minutes} min before use`,
  outAt: (when: string): string => `taken out ${when}`,
  byHand: 'By hand',
  byCode: (issuer: string): string => `From its ${issuer} code`,
  govern:
    'The instructions of the product in hand govern. This list only repeats what was entered.',
} as const;

export const formWords = {
  titleNew: 'A material for the shelf',
  titleEdit: 'Change the entry',
  class: 'Generic class',
  classOther: 'Another class',
  classOtherLabel: 'Name of the class',
  classHint: 'The classes of the protocols on this tablet. No product names.',
  label: 'Own label',
  labelHint: 'What people here call it: "Cement, shelf 2".',
  lot: 'Lot',
  expiry: 'Expiry date',
  expiryHint: 'The last day of use. A label with month only means its last day.',
  opened: 'Opened on',
  within: 'To be used within, after opening',
  withinHint: 'As its instructions say. Empty when they say nothing.',
  days: 'days',
  refrigerated: 'Kept in the refrigerator',
  warm: 'Expected warm-up',
  warmHint: 'From the refrigerator to room temperature. About 60 min (common practice, no source).',
  minutes: 'min',
  note: 'Note',
  save: 'Keep it',
  from: 'From the label',
  problems: {
    class: 'Choose or name a class.',
    label: 'Give it a label.',
    lot: 'The lot is missing.',
    expiry: 'This is not a date.',
    within: 'A whole number of days.',
    warm: 'Minutes, 0 or more.',
    opened: 'This lies in the future.',
  },
} as const;

export const scanWords = {
  title: 'Scan a label',
  waiting: 'Scan now with the scanner, or show the label to the camera.',
  camera: 'Use the camera',
  cameraOff: 'Camera off',
  cameraLabel: 'Picture of the camera',
  photo: 'Read a photograph',
  typed: 'Or type the code',
  typedHint: 'With brackets, as printed under the bars: (01)…(17)…(10)…',
  typedDo: 'Read',
  decoderLoading: 'The decoder is being loaded.',
  decoderKept: 'The decoder is on this tablet. The camera works without a network.',
  decoderMissing:
    'The decoder is not on this tablet yet. It is fetched once, when the network is there. A scanner and typing work without it.',
  noneInPhoto: 'No code was found in this photograph. Go closer, hold still, add light.',
  failures: {
    'camera-not-allowed':
      'The camera is not allowed for this app. Allow it in the browser, or take a photograph.',
    'no-camera': 'No camera can be used here. Take a photograph, use a scanner or type the code.',
    'not-a-picture': 'This file is no picture that the browser can open.',
    'no-decoder': 'The decoder cannot be loaded. Use a scanner, or type the code.',
  } satisfies Record<string, string>,
  failed: 'That did not work. Use a scanner, or type the code.',
  readBack: 'Read it back from the box',
  again: 'Scan again',
  more: 'The code does not say everything. Scan the other code on the label too.',
  take: 'It says the same on the box',
  byHand: 'Enter by hand instead',
  problems: 'This code is not taken over',
  problemsTodo: 'Scan it again, or enter what is printed on the box by hand.',
  facts: {
    issuer: 'Rules of the code',
    device: 'Device identifier',
    lot: 'Lot',
    expiry: 'Expires',
    produced: 'Made on',
    serial: 'Serial number',
    additional: 'Further code of the maker',
  },
  none: 'not in the code',
  month: 'The label states the month only: its last day is meant.',
  settings: 'A scanner that cannot send the separator',
  separator: 'It sends this instead of ASCII 29',
  separatorHint:
    'One or two characters, such as ^ or |. Empty when it sends ASCII 29, Control and ] or F8.',
} as const;

/** Why the camera or a photograph did not help. */
export function scanFailureWords(problem: Pick<Problem, 'code'>): string {
  const known: Readonly<Record<string, string>> = scanWords.failures;
  return known[problem.code] ?? scanWords.failed;
}

export const lightWords = {
  lede: 'Readings of each light with the same instrument, against its own baseline.',
  add: 'Enter a reading',
  none: 'No reading yet',
  noneTodo: 'Read the light with its sleeve on and enter what the instrument shows.',
  light: 'Light',
  lightHint: 'As it is called in the cases: "Light A".',
  instrument: 'Instrument',
  instrumentHint: 'The same one each time: two instruments do not agree.',
  value: 'Reading',
  unit: 'mW/cm²',
  on: 'Read on',
  baseline: 'This is the baseline from now on',
  baselineNote: 'New light, new tip, or after service.',
  note: 'Note',
  save: 'Keep it',
  remove: 'Remove',
  removeName: (on: string): string => `Remove the reading of ${on}`,
  isBaseline: 'baseline',
  drift: 'Drift',
  last: 'Last reading',
  baselineFact: 'Baseline',
  lastFact: (o: { readonly value: string; readonly on: string; readonly with: string }): string =>
    `${o.value} on ${o.on}, ${o.with}`,
  fall: 'A fifth or more below its own baseline. Service is due (common practice, no source).',
  otherInstrument:
    'Not every reading was made with the same instrument. Two instruments do not agree.',
  chart: (o: { readonly light: string; readonly count: number; readonly drift: string }): string =>
    `${o.light}: ${o.count} readings in time against the baseline, last ${o.drift}`,
  baselineLine: 'own baseline',
  fallLine: '−20 %',
  readings: 'Readings',
  columns: { on: 'Read on', value: 'Reading', drift: 'Against baseline', with: 'Instrument' },
  problems: {
    light: 'Name the light.',
    instrument: 'Name the instrument.',
    value: 'A number between 50 and 20 000.',
    on: 'This is not a date, or lies in the future.',
  },
} as const;
