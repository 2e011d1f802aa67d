/** Words of the list of cases. */
export const caseListWords = {
  title: 'Record',
  lede: 'Every case on this tablet.',
  backup: 'Backup',
  find: 'Find',
  findHint: 'Title, chart reference, people, material or lot',
  narrow: 'Narrow down',
  tooth: 'Tooth',
  toothHint: 'FDI number, such as 11',
  from: 'From',
  to: 'To',
  bounds: 'Bounds',
  boundsOptions: { any: 'All', some: 'Some not kept', none: 'All kept' },
  kind: 'Kind',
  kindOptions: { any: 'All', patient: 'Patient', rehearsal: 'Rehearsal' },
  clear: 'Show all again',
  none: 'No case was begun on this tablet yet',
  noneFound: 'No case fits.',
  shown: (o: { readonly shown: number; readonly of: number }): string =>
    o.shown !== o.of ? `${o.shown} of ${o.of} cases` : o.of === 1 ? '1 case' : `${o.of} cases`,
  reading: (o: { readonly done: number; readonly of: number; readonly shown: number }): string =>
    `${o.shown} found so far. Reading the cases: ${o.done} of ${o.of}`,
  showMore: (left: number): string => `Show more, ${left} to come`,
  notExported: (count: number): string =>
    count === 1
      ? '1 closed case has not been exported as it stands.'
      : `${count} closed cases have not been exported as they stand.`,
  allExported: 'Every closed case has been exported as it stands.',
  notExportedTodo: 'Open its record and hand it on, or take them all into one file.',
  exportAll: 'Export all not yet exported',
  exportReading: (done: number): string => `Reading for the file: ${done}`,
  exportReady: (o: { readonly cases: number; readonly left: number }): string => {
    const cases = o.cases === 1 ? '1 case is' : `${o.cases} cases are`;
    return o.left === 0
      ? `${cases} in the file.`
      : `${cases} in the file; ${o.left} are left for the next one.`;
  },
  exportAbout: 'Journals with their hashes, JSON. Not encrypted.',
  exportSave: 'Save the file',
  exportShare: 'Share the file',
  exportNoting: 'Noting that they were exported',
  exportNotNoted: 'The file was handed on, but not all of it could be noted as exported.',
  exportFailed: 'The file could not be made.',
  breaches: (count: number): string =>
    count === 0
      ? 'every bound kept'
      : count === 1
        ? '1 bound not kept'
        : `${count} bounds not kept`,
  damaged: 'does not hold together, see its record',
  open: 'not closed',
  exported: (when: string): string => `exported ${when}`,
  toExport: 'not exported',
  rehearsal: 'Rehearsal',
  unreadable: (count: number): string =>
    count === 1 ? '1 case cannot be read.' : `${count} cases cannot be read.`,
  unreadableTodo: 'It is kept as it is and goes into the backup.',
  delete: 'Delete',
  deleteName: (title: string): string => `Delete ${title}`,
  deleteTitle: 'Delete this case for good',
  deleteWhat: (o: { readonly title: string; readonly chartRef: string }): string =>
    `${o.title}, ${o.chartRef}`,
  deleteNote:
    'Its entries are deleted on this tablet. A line stays that says what was deleted, when, by whom and why. Files that were exported are not touched.',
  deleteBy: 'Who deletes it',
  deleteWhy: 'Why',
  deleteDo: 'Delete it',
  notDeleted: 'It was not deleted.',
  deleted: 'Deleted cases',
  deletedLede: 'What stays of a case that was deleted on purpose.',
  columns: {
    case: 'Case',
    when: 'Deleted on',
    by: 'By',
    why: 'Why',
    entries: 'Entries',
    head: 'Last hash',
  },
} as const;
