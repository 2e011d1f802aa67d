/** Words of the product sheets: one document of instructions, its numbers, and what they change. */
import type { SheetFault } from '../../protocol/sheet-finish.ts';
import type { SheetBound, SheetGroup, SheetUnit } from '../../protocol/sheet-types.ts';
import { listIn, pluralIn } from '../grammar.ts';

const plural = pluralIn('en');
const list = listIn('en-GB');

const numbers = (count: number): string =>
  plural(count, { one: '1 number', other: `${count} numbers` });

export const productSheet = {
  title: 'Product sheets',
  lede: 'The instructions in hand, one sheet a document. Each number is entered once, in the words of the document, with the places where it stands in protocols.',
  reading: 'Reading the sheets',
  none: 'No sheet yet',
  noneTodo: 'Take the instructions of one material to hand and begin a sheet.',
  tryIt: 'Try it with an invented sheet',
  begin: 'New sheet',
  damaged: (count: number): string =>
    plural(count, {
      one: '1 sheet cannot be read. It stays stored.',
      other: `${count} sheets cannot be read. They stay stored.`,
    }),
  find: 'Find by label',
  findHint: 'Scan the label with a scanner that types, or type its code or device identifier.',
  findDo: 'Find',
  found: (identifier: string): string => `Sheets of ${identifier}`,
  notFound: (identifier: string): string => `No sheet names ${identifier}`,
  notFoundTodo: 'Begin a sheet for it, or add the identifier to the sheet of its document.',
  unreadLabel: 'No device identifier can be read from this.',
  beginFor: (identifier: string): string => `New sheet for ${identifier}`,
  all: 'All sheets',
  // One sheet
  gone: 'This sheet is not here',
  goneTodo: 'It was put away, or comes from another tablet.',
  rowWhat: (o: { readonly revision: string; readonly materialClass: string }): string =>
    `Revision ${o.revision}, ${o.materialClass}`,
  count: numbers,
  unread: (count: number): string => `${count} not read in this revision`,
  places: (o: { readonly places: number; readonly protocols: number }): string => {
    const places = plural(o.places, { one: '1 place', other: `${o.places} places` });
    return `at ${places} in ${plural(o.protocols, { one: '1 protocol', other: `${o.protocols} protocols` })}`;
  },
  typing: 'Being typed, not kept yet',
  open: 'Open',
  openName: (document: string): string => `Open ${document}`,
  goOn: 'Go on typing',
  goOnName: (document: string): string => `Go on typing ${document}`,
  newRevision: 'New revision',
  newRevisionName: (document: string): string => `New revision of ${document}`,
  correct: 'Read on or correct',
  changes: 'What it changes',
  changesName: (document: string): string => `What ${document} changes`,
  putAway: 'Put away',
  putAwayMore: 'Takes the sheet off this list. What was confirmed by it stays confirmed.',
  away: (count: number): string =>
    plural(count, { one: '1 sheet put away', other: `${count} sheets put away` }),
  putBack: 'Put back',
  putBackName: (document: string): string => `Put back ${document}`,
  head: 'Document',
  facts: {
    materialClass: 'Material class',
    document: 'Document',
    revision: 'Revision',
    date: 'Date printed on it',
    pages: 'Pages',
    identifiers: 'Device identifiers',
    kept: 'Kept',
  },
  keptBy: (o: { readonly by: string; readonly on: string; readonly hash: string }): string =>
    `${o.by}, ${o.on}, hash ${o.hash}`,
  apart: 'Two tablets wrote this sheet',
  apartTodo: 'Both are shown. Read the document again: what you keep follows both.',
  elsewhere: 'Written on another tablet',
  elsewhereTodo: 'What was read there confirms nothing here. Read its numbers at this desk.',
  earlier: (count: number): string =>
    plural(count, { one: '1 earlier state', other: `${count} earlier states` }),
  forStock: 'For the stock list',
  stock: {
    refrigerated: 'Kept in the refrigerator',
    openedFor: (days: number): string =>
      plural(days, {
        one: 'Use within 1 day of opening',
        other: `Use within ${days} days of opening`,
      }),
    warmUp: (minutes: number): string => `${minutes} min out of the refrigerator before use`,
  },
  // Reading and typing
  typeTitle: 'New sheet',
  reviseTitle: (document: string): string => `New revision: ${document}`,
  readTitle: (document: string): string => `Reading: ${document}`,
  readLede:
    'Hold the new document beside the screen. Answer each number on its own. “Same” says that number, words and page stand there as before; what nobody answers is carried along and confirms nothing.',
  classHint: 'The generic class, as protocols name it.',
  otherClass: 'Another class',
  classField: 'Name of the class',
  documentHint: 'Its title, without brand: “Etching gel, instructions for use”.',
  identifiersHint: 'As on the labels, with a space between two.',
  wrongIdentifier: (identifier: string): string =>
    `The check digit of ${identifier} is wrong. Compare it with the label.`,
  dateHint: 'If there is one.',
  before: (revision: string): string => `Before: ${revision}`,
  group: {
    etch: 'Etching and abrading',
    rinse: 'Rinsing',
    coats: 'Coats and rubbing in',
    waiting: 'Waiting and drying',
    'working-time': 'Working time',
    'setting-time': 'Setting time',
    light: 'Light',
    'warm-up': 'Warming up',
    storage: 'Storage',
    'opened-for': 'After opening',
  } satisfies Record<SheetGroup, string>,
  bound: { least: 'at least', target: 'target', most: 'at most' } satisfies Record<
    SheetBound,
    string
  >,
  unit: {
    s: 's',
    min: 'min',
    h: 'h',
    days: 'days',
    months: 'months',
    coats: 'coats',
    'J/cm2': 'J/cm²',
    'mW/cm2': 'mW/cm²',
    C: '°C',
  } satisfies Record<SheetUnit, string>,
  line: (o: { readonly group: string; readonly title: string; readonly bound: string }): string =>
    o.title === '' ? `${o.group}, ${o.bound}` : `${o.group}, ${o.title}, ${o.bound}`,
  /** Under the heading of its group, behind the number. */
  side: (o: { readonly title: string; readonly bound: string }): string =>
    o.title === '' ? o.bound : `${o.bound}, ${o.title}`,
  counted: {
    coats: (count: number): string => plural(count, { one: 'coat', other: 'coats' }),
    days: (count: number): string => plural(count, { one: 'day', other: 'days' }),
    months: (count: number): string => plural(count, { one: 'month', other: 'months' }),
  },
  lineName: (o: { readonly line: string; readonly value: string }): string =>
    o.value === '' ? o.line : `${o.line}: ${o.value}`,
  at: (temperature: string): string => `at ${temperature}`,
  quoted: (o: { readonly words: string; readonly page: string }): string =>
    o.page === '' ? `“${o.words}”` : `“${o.words}”, page ${o.page}`,
  answer: {
    open: 'Not read',
    same: 'Same',
    typed: 'Changed',
    gone: 'Gone',
  },
  answerOf: (line: string): string => `In the new document: ${line}`,
  kept: (o: { readonly by: string; readonly on: string }): string => `Read by ${o.by}, ${o.on}`,
  number: 'Number',
  understood: (shown: string): string => `Understood: ${shown}`,
  words: 'As written there',
  wordsProposed: 'Proposed: the old words with the new number. Compare them with the document.',
  typedElsewhere: 'Typed on another tablet. Compare number, words and page with the document.',
  compared: 'It reads like this',
  page: 'Page',
  lineTitle: 'What it is about',
  lineTitleHint: 'If the group does not say enough: “on enamel”.',
  boundLabel: 'It is',
  unitLabel: 'Unit',
  temperature: 'Temperature, °C',
  more: 'Name, side, unit',
  addLine: (group: string): string => `Add: ${group}`,
  anotherState: 'Another revision, document or class: what was read before counts as not read',
  anotherStateTodo: 'For a new document, throw this draft away and begin a new revision.',
  add: 'Add a number',
  addHint: 'Choose what it is about.',
  takeOut: 'Remove this number',
  takeOutName: (line: string): string => `Remove: ${line}`,
  spots: (count: number): string =>
    count === 0
      ? 'Stands in no protocol'
      : plural(count, { one: 'Stands at 1 place', other: `Stands at ${count} places` }),
  spotsDo: 'Places',
  spotsName: (line: string): string => `Places of ${line}`,
  spotsTitle: 'Where this number stands',
  spotsLede: 'Tick each number of a protocol that this line of the document is about.',
  spotsNone: 'No protocol has a number about this class of material in this unit.',
  spotsOther: 'Other numbers about this material',
  spotsSame: (count: number): string => `Tick the ${count} with the same number`,
  spot: (o: { readonly title: string; readonly label: string; readonly shown: string }): string =>
    `${o.title}, ${o.label}: ${o.shown}`,
  /** A number that a step can have and has not. */
  noNumber: 'none yet',
  done: 'Done',
  progress: (o: { readonly answered: number; readonly of: number }): string =>
    `${o.answered} of ${o.of} answered`,
  keep: 'Keep this sheet',
  keepOpen: (count: number): string =>
    plural(count, {
      one: '1 number was not answered. It is carried along and confirms nothing.',
      other: `${count} numbers were not answered. They are carried along and confirm nothing.`,
    }),
  drop: 'Throw this draft away',
  dropSure: 'Throw away what was typed?',
  dropLede: 'What was typed and answered here is gone then. The sheet itself stays as it was kept.',
  problems: (count: number): string =>
    plural(count, { one: '1 field needs you', other: `${count} fields need you` }),
  faults: {
    empty: 'Give the number.',
    'not-a-number': 'Give a number.',
    'not-a-duration': 'This is not a length of time. Write 20, 20 s, 1:30 or 1.5 min.',
    'not-above-zero': 'Give a number above zero.',
    'not-whole': 'Give a whole number.',
    'too-large': 'This is more than such a number can be. Look at the unit.',
    needed: 'This is needed.',
    'same-revision': 'This is the revision before. Give the one printed on the new document.',
    'no-date': 'There is no such day.',
    'same-words': 'These are the words of the revision before. Give those of the new one.',
    'other-number': 'These words give another number. Quote those that give this one.',
    'words-not-compared': 'Compare these words with the document.',
    'over-most': 'A lower limit stands above an upper one of the same thing.',
    'too-long': 'At most 1000 characters.',
  } satisfies Record<SheetFault, string>,
  like: 'The same places in other protocols',
  likeLede: 'Where a protocol names its steps as those do in which these numbers stand already.',
  likeDo: (count: number): string =>
    plural(count, { one: 'Tick 1 place', other: `Tick ${count} places` }),
  likeName: (o: { readonly count: number; readonly title: string }): string =>
    plural(o.count, {
      one: `Tick 1 place in ${o.title}`,
      other: `Tick ${o.count} places in ${o.title}`,
    }),
  // What it changes
  changesTitle: (document: string): string => `What it changes: ${document}`,
  changesLede:
    'Nothing changes until a draft is confirmed. Take out what the clinic does on purpose in another way.',
  changesNone: 'None of the numbers read differs in a protocol, nor does its document',
  changesNoneTodo: 'Say under Places where its numbers stand, or read those that are not read yet.',
  unreadLines: (count: number): string =>
    plural(count, {
      one: '1 number was not read in this revision. It confirms nothing.',
      other: `${count} numbers were not read in this revision. They confirm nothing.`,
    }),
  lost: (count: number): string =>
    plural(count, {
      one: '1 place is not in its protocol any more, or not for this material',
      other: `${count} places are not in their protocols any more, or not for this material`,
    }),
  changed: (o: {
    readonly title: string;
    readonly label: string;
    readonly before: string;
    readonly after: string;
  }): string => `${o.title}, ${o.label}: ${o.before}, then ${o.after}`,
  unchanged: (o: {
    readonly title: string;
    readonly label: string;
    readonly shown: string;
  }): string => `${o.title}, ${o.label}: ${o.shown}`,
  onlyDocument: (count: number): string =>
    plural(count, {
      one: '1 number stays, with the new document behind it',
      other: `${count} numbers stay, with the new document behind them`,
    }),
  clash: 'Two lines of the sheet say different numbers for this place. Mend the sheet first.',
  governed: (document: string): string => `Until now: ${document}`,
  intoDraft: 'Goes into the draft that is open.',
  who: (o: { readonly keeper: string; readonly before: readonly string[] }): string =>
    o.before.length === 0
      ? `To be confirmed at this desk by ${o.keeper}.`
      : `To be confirmed at this desk by ${o.keeper}. Confirmed before by ${list(o.before)}.`,
  effect: 'What it does to cases',
  effectName: (title: string): string => `What it does to cases: ${title}`,
  effectHide: 'Hide',
  make: (count: number): string =>
    plural(count, { one: 'Make the draft', other: `Make ${count} drafts` }),
  made: 'Drafts are made. Each is read and confirmed on its own page.',
  toDraft: (title: string): string => `Confirm: ${title}`,
};
