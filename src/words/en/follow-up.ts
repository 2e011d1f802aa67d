/** Follow-up: recalls, what was found at them, and the pages that tell it. Days come as text. */
import { listIn, pluralIn } from '../grammar.ts';

const list = listIn('en-GB');
const plural = pluralIn('en');

const units = (count: number): string => plural(count, { one: '1 unit', other: `${count} units` });

/** What can be found of a unit: its name, and what it means and counts as. */
const findings = {
  'in-place': {
    name: 'In place',
    means: 'It is where it was bonded, and nothing else is found.',
  },
  'partly-loose': {
    name: 'Partly loose',
    means: 'It has come away from the tooth in part; counts as lost retention.',
  },
  'lost-retention': {
    name: 'Lost retention',
    means: 'It has come off the tooth; counts as lost retention.',
  },
  fractured: {
    name: 'Fractured',
    means: 'It is broken through; counts against success, and against survival if it is replaced.',
  },
  chipped: {
    name: 'Chipped',
    means: 'A small piece of it is gone; counts against success only.',
  },
  'margin-stained': {
    name: 'Margin stained',
    means: 'Colour stands along its margin; counts against success only.',
  },
  caries: {
    name: 'Caries at the margin',
    means:
      'The tooth is carious at the margin; counts against success, and against survival if it is replaced.',
  },
  sensitive: {
    name: 'Sensitive',
    means: 'The tooth hurts to cold, air or bite; counts against success only.',
  },
  'replaced-other': {
    name: 'Replaced for another reason',
    means: 'It was made anew for a reason such as shade; ends its follow-up and is no failure.',
  },
  'tooth-lost': {
    name: 'Tooth lost',
    means: 'The tooth itself is gone; ends the follow-up of the unit and is no failure.',
  },
  'not-seen': {
    name: 'Not seen',
    means: 'Nobody looked at it at this visit; says nothing.',
  },
} as const;

export const followUp = {
  title: 'Follow-up',
  reading: 'Reading what was noted.',
  notRead: 'What was noted could not be read',
  notReadTodo: 'Load the page again.',
  takingIn: (o: { readonly done: number; readonly of: number }): string =>
    `Older cases are being taken in: ${o.done} of ${o.of}.`,
  notTakenIn: (count: number): string =>
    plural(count, {
      one: '1 older case could not be read and is not followed.',
      other: `${count} older cases could not be read and are not followed.`,
    }),
  unread: (count: number): string =>
    plural(count, {
      one: '1 entry is in a form that this version does not know. It stays stored.',
      other: `${count} entries are in a form that this version does not know. They stay stored.`,
    }),

  /** The list of all recalls. */
  lede: 'Recalls of everything that was bonded.',
  search: 'Chart reference',
  searchHint: 'Part of it is enough.',
  noneFound: 'No case with this chart reference is followed.',
  none: 'No case is followed yet',
  noneTodo: 'A case is followed once it was signed. Units from before can be added.',
  groups: {
    overdue: 'Overdue',
    due: 'Due',
    ahead: 'Ahead',
    ended: 'Ended',
  },
  noneWaits: 'None is due or overdue.',
  groupTitle: (o: { readonly name: string; readonly count: number }): string =>
    `${o.name} (${o.count})`,
  showMore: (count: number): string => `Show ${count} more`,
  units,
  recallNames: {
    weeks: '1 to 2 weeks',
    'months-6': '6 months',
    'months-12': '12 months',
    later: 'Regular recall',
  },
  dueOn: (o: { readonly recall: string; readonly on: string }): string =>
    `${o.recall}, due ${o.on}`,
  overdueSince: (on: string): string => `Overdue since ${on}`,
  dueUntil: (on: string): string => `Due until ${on}`,
  aheadFrom: (on: string): string => `From ${on}`,
  endedBy: {
    'by-people': 'No further recall',
    'nothing-left': 'Nothing is left where it was bonded',
  },
  lastSeen: (on: string): string => `Last seen ${on}`,
  neverSeen: 'Not seen since',
  earlier: 'Bonded before the app was used',
  left: 'Case deleted, chart reference not kept',
  differs: 'Two tablets tell a visit differently',
  visitName: (o: { readonly ref: string; readonly title: string }): string =>
    `Recall visit of ${o.ref}, ${o.title}`,
  caseName: (o: { readonly ref: string; readonly title: string }): string =>
    `Follow-up of ${o.ref}, ${o.title}`,
  visitDo: 'Recall visit',
  toCase: 'Follow-up of this case',
  toList: 'All recalls',
  addEarlier: 'Add units bonded before',

  /** The interval of the clinic. */
  interval: 'Recall every',
  intervalHint: 'After the first year. 1 to 2 weeks, 6 and 12 months come first.',
  months: (count: number): string => plural(count, { one: '1 month', other: `${count} months` }),
  notSaved: 'This was not saved.',

  /** The section on the first page. */
  todayTitle: 'Recalls',
  todayLine: (o: { readonly overdue: number; readonly due: number }): string =>
    `Recalls: ${list([
      ...(o.overdue > 0 ? [`${o.overdue} overdue`] : []),
      ...(o.due > 0 ? [`${o.due} due`] : []),
    ])}`,
  todayName: (o: { readonly visit: string; readonly standing: string }): string =>
    `${o.visit}. ${o.standing}`,
  recallLine: (o: { readonly recall: string; readonly standing: string }): string =>
    `${o.recall}: ${o.standing}`,
  todayCount: (o: { readonly overdue: number; readonly due: number }): string =>
    list([
      ...(o.overdue > 0 ? [`${o.overdue} overdue`] : []),
      ...(o.due > 0 ? [`${o.due} due`] : []),
    ]),

  /** One case. */
  caseLede: (o: { readonly ref: string; readonly on: string }): string =>
    `Chart reference ${o.ref}. Bonded ${o.on}.`,
  noCase: 'This case is not followed',
  noCaseTodo: 'It is followed once it was signed, if something was bonded in it.',
  noted: 'Noted.',
  unitsTitle: 'Units',
  unit: 'Unit',
  visitsTitle: 'Visits',
  noVisits: 'No visit was noted.',
  nothingFound: 'Not looked at yet',
  foundOn: (o: { readonly on: string; readonly what: string; readonly done?: string }): string =>
    o.done === undefined ? `${o.on}: ${o.what}` : `${o.on}: ${o.what}. ${o.done}`,
  findings,
  found: (names: readonly string[]): string => list(names),
  retainer: (o: { readonly tooth: string; readonly what: string }): string =>
    `Retainer ${o.tooth}: ${o.what}`,
  thens: {
    left: 'Left as it was',
    repaired: 'Repaired',
    'bonded-again': 'Bonded again',
    replaced: 'Replaced',
  },
  stated: (on: string): string => `The patient stated ${on}`,
  grade: (o: {
    readonly scale: string;
    readonly year: number;
    readonly item: string;
    readonly grade: string;
  }): string => [`${o.scale} ${o.year}`, o.item, o.grade].filter((part) => part !== '').join(', '),
  looked: (name: string): string => `${name} looked`,
  lookedOwn: (name: string): string => `${name} looked, who had bonded it`,
  notedUnseen: (name: string): string => `Nothing was seen. Noted by ${name}`,
  visitOn: (on: string): string => `Visit of ${on}`,
  correct: 'Correct',
  correctName: (on: string): string => `Correct the visit of ${on}`,
  strike: 'Strike',
  strikeName: (on: string): string => `Strike the visit of ${on}`,
  was: 'What it replaced',
  replaced: (reason: string): string =>
    reason === '' ? 'Replaced. No reason was given.' : `Replaced: ${reason}`,
  struckTitle: 'Struck visits',
  struck: (reason: string): string =>
    reason === '' ? 'Struck. No reason was given.' : `Struck: ${reason}`,
  recallsTitle: 'Recalls',
  endedOn: (o: { readonly on: string; readonly reason: string }): string =>
    `Ended ${o.on}: ${o.reason}`,
  endRecalls: 'End recalls',
  resume: 'Resume recalls',
  calendar: 'Recalls to the calendar',
  calendarShared: 'Shared as a calendar file.',
  calendarSaved: 'Saved as a calendar file.',
  calendarNone: 'No recall is to come.',
  recallStates: {
    ahead: 'Ahead',
    due: 'Due',
    overdue: 'Overdue',
    held: 'Held',
    missed: 'Not held',
  },
  toRecord: 'Record of the bonding',
  takeOut: 'Take these units out',

  /** A visit that two tablets tell differently. */
  differTitle: 'Told differently by two tablets',
  differLede: 'Both were written without knowing of each other. Choose what holds; both stay told.',
  side: (o: { readonly tablet: string; readonly by: string }): string =>
    o.by === '' ? o.tablet : `${o.tablet}, ${o.by}`,
  sideStruck: 'The visit was struck.',
  takeSide: 'This holds',
  takeSideName: (tablet: string): string => `What ${tablet} tells holds`,
  thisTablet: 'This tablet',
  otherTablet: (id: string): string => `Tablet ${id}`,

  /** Visits that cannot all be so. */
  contradictTitle: 'Visits that do not agree',
  contradictLede:
    'This happens when tablets note visits without knowing of each other. Correct or strike the one that does not hold.',
  contradicts: 'Visits do not agree',
  contradiction: {
    'same-day': (unit: string): string =>
      `${unit}: visits of one day found different things. Until one is corrected, the figures count all that was found on that day.`,
    'after-gone': (unit: string): string =>
      `${unit}: found gone, and in place at a later visit; nothing says that it was bonded again. Until one is corrected, the figures count that it was gone, and nothing after it.`,
  },

  /** Sheets that ask for a reason. */
  reason: 'Reason',
  reasonMissing: 'Say why.',
  by: 'Who says so',
  byMissing: 'Say who.',
  strikeNote: 'The visit is no longer counted. It stays told, with your reason.',
  endNote: 'Nobody is asked for this case any more. It can be resumed.',
  endReasons: ['Moved away', 'Declined'] as readonly string[],
  takeOutNote: 'These units are no longer counted. What was noted of them stays stored.',
  sideNote: 'This is what is counted from now on. The other stays told, with your reason.',
};

export const recallVisit = {
  title: 'Recall visit',
  titleCorrect: 'Correct a visit',
  lede: (o: { readonly ref: string; readonly title: string; readonly on: string }): string =>
    `${o.ref}: ${o.title}. Bonded ${o.on}.`,
  allInPlace: 'All in place',
  noneSeen: 'None seen',
  note: 'Note it',
  noteCorrected: 'Note the correction',
  noting: 'Noting …',
  summary: (o: { readonly found: readonly string[]; readonly open: number }): string =>
    list([...o.found, ...(o.open > 0 ? [`${units(o.open)} not answered`] : [])]),
  inPlace: (count: number): string => `${units(count)} in place`,
  withFindings: (count: number): string => `${units(count)} with findings`,
  notSeen: (count: number): string => `${units(count)} not seen`,
  whoAndWhen: (o: { readonly who: string; readonly on: string }): string =>
    o.who === '' ? o.on : `${o.who}, ${o.on}`,
  whoTitle: 'Who looked, and when',
  examiner: 'Who looked',
  ownWork: 'Bonded it as well. The visit notes that.',
  onDay: 'Day of the visit',
  noteLabel: 'Note',
  leave: 'Leave without noting',
  found: 'Something found',
  ofUnit: (unit: string): string => `Found of ${unit}`,
  what: 'What is found',
  severalHint: 'Several where they combine.',
  bridgeHint: 'One loose retainer counts as lost retention of the bridge.',
  ofRetainer: (tooth: string): string => `Retainer ${tooth}`,
  wholeBridge: 'The bridge as a whole',
  done: 'What was done about it',
  doneUnsaid: 'Not said',
  bondedAgainIn: 'Bonded again in',
  bondedAgainUnknown: 'No case of the app',
  caseLine: (o: { readonly title: string; readonly on: string }): string => `${o.title}, ${o.on}`,
  statedDay: 'Day the patient states',
  statedDayHint: 'If the patient knows it.',
  grades: 'Grades of a scale',
  gradesHint: 'Kept as entered. No grade is made from what is found.',
  scale: 'Scale',
  scales: { 'fdi-2010': 'FDI 2010', 'fdi-2023': 'FDI 2023', usphs: 'Modified USPHS' },
  scaleNames: { fdi: 'FDI', usphs: 'Modified USPHS' },
  year: 'Year of the scale',
  yearMissing: 'Type the year in four figures.',
  item: 'Item',
  items: [
    'Retention',
    'Fracture, chipping',
    'Margin',
    'Contact, form, bite, wear',
    'Caries at the margin',
    'Sensitivity',
    'Margin stain',
    'Colour, lustre',
  ] as readonly string[],
  itemOwn: 'Another item',
  gradeLabel: 'Grade',
  gradeMissing: 'Choose the grade, or remove the line.',
  usphs: ['Alpha', 'Bravo', 'Charlie', 'Delta'] as readonly string[],
  gradesOf: (unit: string): string => `Grades of ${unit}`,
  addGrade: 'Add a grade',
  addGradeName: (unit: string): string => `Add a grade to ${unit}`,
  removeGrade: 'Remove this grade',
  others: 'The others are in place',
  goneTitle: 'No longer where they were bonded',
  notPartTitle: 'Not part of this visit',
  goneLine: (o: { readonly unit: string; readonly what: string }): string => `${o.unit}: ${o.what}`,
  noteGone: 'Note it too',
  noteGoneName: (unit: string): string => `Note ${unit} too`,
  notNoted: 'Not noted yet',
  notNotedTodo: 'See what is marked. Nothing you typed was lost.',
  correctionReason: 'Why it is corrected',

  faults: {
    'no-examiner': 'Say who looked.',
    'no-units': 'Note at least one unit.',
    'not-a-day': 'Type a whole date.',
    'in-future': 'Choose a day up to today.',
    'no-finding': 'Choose what is found, or “Not seen”.',
    'stands-alone': '“In place” and “Not seen” stand alone.',
    'unit-unknown': 'This unit is not part of the case.',
    'unit-twice': 'This unit is noted twice.',
    'tooth-unknown': 'This tooth carries no part of the unit.',
    'done-without-finding': 'Choose what was found first.',
    'stated-without-finding': 'Choose what was found first.',
    'noted-that-day': 'Another visit of this day tells of this unit. Correct that visit.',
    'seen-after-gone': 'An earlier visit found it gone. Correct that visit, or what is found now.',
    'gone-before-seen':
      'A later visit found it in place. Correct that visit, or what is found now. If it was bonded again at this visit, say so.',
  },
  beforeBonding: (on: string): string => `It was bonded on ${on}. Choose that day or a later one.`,
  statedTooEarly: (o: { readonly stated: string; readonly seen: string }): string =>
    `The patient states ${o.stated}, but it was seen in place on ${o.seen}. State a later day, or leave the field empty.`,
  statedBeforeBonding: (o: { readonly stated: string; readonly bonded: string }): string =>
    `The patient states ${o.stated}, but it was bonded on ${o.bonded}. State a later day, or leave the field empty.`,
  statedTooLate: (o: { readonly stated: string; readonly visit: string }): string =>
    `The patient states ${o.stated}, but the visit was on ${o.visit}. State a day up to the visit.`,
  seenAfterStated:
    'The patient states an earlier day at a later visit. Correct that visit, or this day.',
};

export const bondedBefore = {
  title: 'Bonded before',
  lede: 'Units that were bonded before the app was used. They are followed from the day they were first looked at.',
  chartRef: 'Chart reference',
  caseTitle: 'What it is',
  caseTitleHint: 'Such as “Two upper veneers”.',
  teeth: 'Teeth',
  teethLede: 'Each tooth is a unit of its own. For a bridge choose its retainers, without pontics.',
  restoration: 'Restoration',
  material: 'Class of material',
  bondedOn: 'Day of bonding',
  seenFrom: 'First day looked at',
  dentist: 'Who bonded it',
  optional: 'May stay empty.',
  save: 'Follow these units',
  notSaved: 'Not saved yet',
  faults: {
    chartRef: 'Type the chart reference.',
    teeth: 'Choose at least one tooth.',
    bridge: 'Choose the retainers of the bridge.',
    day: 'Type a whole date.',
    future: 'Choose a day up to today.',
    seenBefore: 'Choose the day of bonding or a later one.',
  },
};
