/** The list of cases. */
import { pluralIn } from '../grammar.ts';

const plural = pluralIn('en');

export const caseList = {
  title: 'Record',
  lede: 'Every case on this tablet.',
  followUp: 'Follow-up',
  backup: 'Backup',
  outcomes: 'What became of it',
  drills: 'Drills',
  find: 'Find',
  findHint: 'Title, chart reference, people, material or lot',
  narrow: 'Narrow down',
  tooth: 'Tooth',
  toothHint: 'FDI number, such as 11',
  from: 'From',
  to: 'To',
  limits: 'Limits',
  limitsOptions: { any: 'All', some: 'Some not kept', none: 'All kept' },
  kind: 'Kind',
  kindOptions: { any: 'All', patient: 'Patient', rehearsal: 'Rehearsal' },
  clear: 'Show all again',
  none: 'No case has been begun on this tablet yet',
  noneFound: 'No case matches.',
  shown: (o: { readonly shown: number; readonly of: number }): string =>
    plural(o.of, { one: `${o.shown} of 1 case`, other: `${o.shown} of ${o.of} cases` }),
  all: (count: number): string => plural(count, { one: '1 case', other: `${count} cases` }),
  reading: (o: { readonly done: number; readonly of: number; readonly shown: number }): string =>
    `${o.shown} found so far. Reading the cases: ${o.done} of ${o.of}`,
  showMore: (left: number): string => `Show more, ${left} to go`,
  notExported: (count: number): string =>
    plural(count, {
      one: '1 closed case has not been exported as it stands.',
      other: `${count} closed cases have not been exported as they stand.`,
    }),
  allExported: 'Every closed case has been exported as it stands.',
  notExportedTodo: 'Open its record and share it, or put them all in one file.',
  exportAll: 'Export all not yet exported',
  exportReading: (done: number): string => `Reading for the file: ${done}`,
  exportReady: (cases: number): string =>
    plural(cases, {
      one: '1 case is in the file. Journals with their hashes, JSON. Not encrypted.',
      other: `${cases} cases are in the file. Journals with their hashes, JSON. Not encrypted.`,
    }),
  exportReadyPart: (o: { readonly cases: number; readonly left: number }): string =>
    `In the file: ${o.cases}. Left for the next one: ${o.left}. Journals with their hashes, JSON. Not encrypted.`,
  exportSave: 'Save the file',
  exportShare: 'Share the file',
  exportNoting: 'Marking them as exported',
  exportNotNoted: 'The file is out, but not every case in it could be marked as exported.',
  exportFailed: 'The file could not be made.',
  breaches: (count: number): string =>
    plural(count, { one: '1 limit not kept', other: `${count} limits not kept` }),
  perhaps: (count: number): string =>
    plural(count, {
      one: '1 limit may not have been kept',
      other: `${count} limits may not have been kept`,
    }),
  limitsTold: (parts: readonly string[]): string => parts.join(', '),
  noBreaches: 'every limit kept',
  damaged: 'Damaged: see its record',
  open: 'not closed',
  openWith: (limits: string): string => `not closed, ${limits}`,
  exported: (when: string): string => `exported ${when}`,
  toExport: 'not exported',
  twoEnds: 'two ends',
  rehearsal: '(rehearsal)',
  unreadable: (count: number): string =>
    plural(count, { one: '1 case cannot be read.', other: `${count} cases cannot be read.` }),
  unreadableTodo: 'It stays as it is and goes into the backup.',
  delete: 'Delete',
  deleteName: (title: string): string => `Delete ${title}`,
  deleteTitle: 'Delete this case for good',
  deleteWhat: (o: { readonly title: string; readonly chartRef: string }): string =>
    `${o.title}, ${o.chartRef}`,
  deleteNote:
    'Its entries are deleted from this tablet. One line stays: what was deleted, when, by whom and why. Files that were exported are not touched.',
  deleteNoteClinic:
    'Every tablet of the clinic deletes it. A tablet that is offline keeps it until it connects, a lost one for ever. In the store its messages stay until the clinic lead erases them; sizes, times and ids stay there for good. Whether that is erasure in law is a question for your counsel.',
  eraseTitle: 'What the store still has of deleted cases',
  eraseNote:
    'The lead’s passphrase opens the keys of the store. Then the case keys and the entries of every deleted case are overwritten there, one by one. Copies of the store’s disk are not reached.',
  erasePassphrase: 'Passphrase of the clinic lead',
  eraseDo: 'Erase them in the store',
  erasing: 'Erasing',
  erased: (o: { readonly keys: number; readonly entries: number }): string =>
    o.keys + o.entries === 0
      ? 'Nothing of a deleted case is left in the store.'
      : `${plural(o.entries, { one: '1 message of entries', other: `${o.entries} messages of entries` })} and ${plural(o.keys, { one: '1 key', other: `${o.keys} keys` })} were erased in the store.`,
  notErased: 'Not everything was erased.',
  notErasedWhy: {
    'wrong-passphrase': 'That is not the lead’s passphrase.',
    'no-box': 'The lead’s box is not on this tablet.',
    'not-connected': 'There is no line to the store. Try again when there is one.',
    other: 'The store did not answer as it should. Try again.',
  },
  deleteLives: 'What became of its units',
  deleteLivesAs: { taken: 'Delete that too', left: 'Keep it as counts' },
  deleteLivesNote: {
    taken: 'Its visits are deleted with it. The figures of the clinic lose these units.',
    left: 'The units stay in the figures of the clinic, with the month of their bonding and without chart reference, title, people, lots and notes. Nobody can be called for a recall by them.',
  },
  deleteLivesBefore:
    'Another tablet deleted this case and kept its units as counts. They are not kept a second time.',
  deleteBy: 'Deleted by',
  deleteWhy: 'Reason',
  deleteDo: 'Delete this case',
  notDeleted: 'It was not deleted.',
  deleted: 'Deleted cases',
  deletedLede: 'What is left of cases that were deleted on purpose.',
  columns: {
    case: 'Case',
    when: 'Deleted on',
    by: 'By',
    why: 'Reason',
    entries: 'Entries',
    head: 'Last hash',
  },
};
