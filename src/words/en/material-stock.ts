/** The stock list, one lot of it, and the form of an entry. */
import { listIn, pluralIn } from '../grammar.ts';

const plural = pluralIn('en');
const list = listIn('en-GB');

export const stock = {
  sheet: (o: { readonly document: string; readonly revision: string }): string =>
    `Product sheet: ${o.document}, revision ${o.revision}`,
  title: 'Materials',
  lede: 'What is on the shelf: generic class, lot and expiry date.',
  tabs: 'Stock or lights',
  stock: 'Stock',
  light: 'Light',
  add: 'Add by hand',
  scan: 'Scan a label',
  search: 'Find',
  searchHint: 'Class, label, lot or note',
  none: 'The list is empty',
  noneTodo: 'Scan the label of a box, or add it by hand.',
  noneFound: 'Nothing on the list fits.',
  gone: 'Used up or discarded',
  goneShow: 'Show what is used up or discarded',
  lot: 'Lot',
  useBy: 'Use by',
  useByOpened: 'Counted from its opening.',
  useByLabel: 'The expiry date of the label.',
  useByNone: 'no last day entered',
  opened: 'Opened',
  notOpened: 'not opened',
  noExpiry: 'no expiry date',
  /** What was looked at, where nothing of it speaks against the lot. */
  notExpired: 'Not expired, no recall entered',
  noRecall: 'No recall entered',
  soon: (days: number): string =>
    days === 0
      ? 'Last day of use: today'
      : days === 1
        ? 'Last day of use: tomorrow'
        : plural(days, { one: '1 day of use left', other: `${days} days of use left` }),
  damaged: (count: number): string =>
    plural(count, { one: '1 entry cannot be read', other: `${count} entries cannot be read` }),
  differing: 'Two tablets wrote different things. Correct the entry to settle it.',
  differs: (o: { readonly field: string; readonly values: readonly string[] }): string =>
    `${o.field}: ${o.values.join(' or ')}.`,
  nothing: 'nothing',
  notSaved: 'This was not saved.',
  problems: {
    'not-writer': 'Another window of this app is writing. Take over in this one first.',
    other: (o: {
      readonly place: string;
      readonly expected: string;
      readonly came: string;
    }): string => `${o.place}: expected ${o.expected}, got ${o.came}.`,
  },
  missing: 'This material is not on the list',
  back: 'All materials',
  edit: 'Change the entry',
  openedToday: 'Opened today',
  takenOut: 'Taken out of the refrigerator now',
  usedUp: 'Used up or discarded',
  notUsedUp: 'Back on the shelf',
  remove: 'Remove the entry',
  removeNote: 'For an entry made by mistake. Cases that named the lot still name it.',
  recall: 'Mark as recalled',
  recallDo: 'Mark this lot',
  recalled: (o: { readonly on: string; readonly reason: string }): string =>
    o.reason === '' ? o.on : `${o.on}: ${o.reason}`,
  cases: 'Cases that used this lot',
  noCases: 'No case on this tablet named this lot.',
  casesReading: (o: { readonly done: number; readonly of: number }): string =>
    `Reading the cases: ${o.done} of ${o.of}`,
  caseUse: (o: { readonly slot: string; readonly steps: readonly string[] }): string =>
    o.steps.length === 0 ? o.slot : `${o.slot} for ${list(o.steps)}`,
  entry: 'Entry',
  facts: {
    class: 'Class',
    label: 'Label',
    out: 'Taken out',
    lot: 'Lot',
    useBy: 'Use by',
    expiry: 'Expiry date',
    opened: 'Opened on',
    within: 'After opening',
    fridge: 'Storage',
    warm: 'Warm-up',
    device: 'Device identifier',
    serial: 'Serial number',
    entry: 'Entered',
    note: 'Note',
    recalled: 'Recalled',
  },
  withinDays: (days: number): string =>
    plural(days, { one: 'use within 1 day', other: `use within ${days} days` }),
  refrigerated: 'Refrigerated',
  room: 'At room temperature',
  warmUp: (minutes: number): string => `${minutes} min before use`,
  outAt: (when: string): string => `taken out ${when}`,
  byHand: 'By hand',
  byCode: (issuer: string): string => `From its ${issuer} code`,
  govern:
    'The instructions of the product in hand decide. This list only repeats what was entered.',
};

export const materialForm = {
  titleNew: 'Add a material',
  titleEdit: 'Change the entry',
  class: 'Generic class',
  classOther: 'Another class',
  classOtherLabel: 'Name of the class',
  classHint: 'The classes of the protocols on this tablet. No product names.',
  label: 'Own label',
  labelHint: 'What people here call it, such as “Cement, shelf 2”.',
  lot: 'Lot',
  expiry: 'Expiry date',
  expiryHint: 'The last day of use. Where the label gives only a month, its last day.',
  opened: 'Opened on',
  within: 'To be used within, after opening',
  withinHint: 'As its instructions say. Leave empty when they say nothing.',
  days: 'days',
  refrigerated: 'Kept in the refrigerator',
  warm: 'Expected warm-up',
  warmHint: 'From the refrigerator to room temperature. About 60 min (common practice, no source).',
  minutes: 'min',
  note: 'Note',
  save: 'Save',
  from: 'From the label',
  device: 'Device identifier',
  deviceHint: 'As printed on the label, after (01). A box that was here before fills in the rest.',
  asLastBox: 'As with the last box.',
  asSheet: 'As its product sheet says.',
  problems: {
    class: 'Choose a class or name one.',
    label: 'Give it a label.',
    lot: 'Enter the lot.',
    expiry: 'This is not a date.',
    within: 'Enter a whole number of days.',
    warm: 'Enter whole minutes, 0 or more.',
    opened: 'This is not a date, or it lies in the future.',
    device: 'The check digit of this number is wrong. Compare it with the box.',
  },
};
