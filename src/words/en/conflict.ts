/** What two tablets tell differently: both beside each other, and which one holds. */
import { pluralIn } from '../grammar.ts';

const plural = pluralIn('en');

export const conflict = {
  title: 'Told differently',
  lede: 'Two tablets wrote these without knowing of each other. Both stay until somebody chooses.',
  back: 'Tablets',
  none: 'No two tablets tell anything differently.',
  reading: 'Reading',
  notRead: 'This could not be read.',
  kinds: {
    'prepared-case': 'Prepared case',
    fork: 'Case',
    material: 'Material',
    sheet: 'Product sheet',
    protocol: 'Protocol',
    person: 'Person of the clinic',
    visit: 'Visit of a follow-up',
    visits: 'Visits of a follow-up',
    question: 'What is asked of the outcomes',
  },
  sideBy: (o: { readonly tablet: string; readonly by: string; readonly when: string }): string =>
    `${o.by}, on ${o.tablet}, ${o.when}`,
  sideOn: (o: { readonly tablet: string; readonly when: string }): string =>
    `On ${o.tablet}, ${o.when}`,
  thisTablet: (name: string): string => `${name}, this tablet`,
  own: 'this tablet',
  other: (id: string): string => `tablet ${id}`,
  unknownTablet: 'a tablet that is not known',
  clock: 'The times are those of each tablet’s own clock.',
  differsIn: 'Differs in',
  part: (o: { readonly part: string; readonly value: string }): string => `${o.part}: ${o.value}`,
  partOnly: (part: string): string => `${part}: differs`,
  nothing: 'nothing',
  allergies: 'The allergies of all are kept, whichever you choose.',
  choose: 'This one holds',
  chooseName: (o: { readonly n: number; readonly title: string }): string =>
    `Side ${o.n} of ${o.title} holds`,
  chosen: (title: string): string => `Settled: ${title}.`,
  lost: 'This was not saved.',
  forkTitle: (o: { readonly title: string; readonly at: number }): string =>
    `${o.title}, from entry ${o.at} on`,
  forkCase: 'A case',
  forkSide: (entries: number): string =>
    plural(entries, { one: '1 entry', other: `${entries} entries` }),
  withoutPen: 'That tablet did not hold the pen at that place.',
  forkTodo:
    'One case was written on two tablets. Both ends are kept, and its record shows both. Nobody has to choose.',
  toRecord: 'To the record',
  materialTitle: (o: { readonly label: string; readonly lot: string }): string =>
    `${o.label}, lot ${o.lot}`,
  sheetSide: (o: { readonly revision: string; readonly lines: number }): string =>
    plural(o.lines, {
      one: `Revision ${o.revision}, 1 line`,
      other: `Revision ${o.revision}, ${o.lines} lines`,
    }),
  sheetTodo: 'A sheet is read line by line at the lead’s desk; the one kept there next holds.',
  toSheet: 'To the sheet',
  visitSide: (o: { readonly on: string; readonly units: number }): string =>
    plural(o.units, { one: `${o.on}, 1 unit`, other: `${o.on}, ${o.units} units` }),
  visitStruck: (reason: string): string => `Taken out: ${reason}`,
  visitTodo: 'Which of them holds is chosen at the follow-up of the case.',
  toFollowUp: 'To the follow-up',
  visitsTitle: (o: { readonly title: string; readonly unit: string }): string =>
    `${o.title}, ${o.unit}`,
  visitsTodo: 'The visit that does not hold is corrected or struck at the follow-up of the case.',
  questionTitle: 'The question',
  questionTodo: 'Which of them holds is chosen where the outcomes stand.',
  toQuestion: 'To the question',
  protocolTitle: (o: { readonly title: string; readonly revision: number }): string =>
    `${o.title}, revision ${o.revision}`,
  protocolSide: (hash: string): string => `Hash ${hash}`,
  protocolTodo:
    'Two confirmed revisions have one number. At the lead’s desk one of them is retired.',
  toCompare: 'Compare both',
};
