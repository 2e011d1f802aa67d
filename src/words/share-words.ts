/** Words for handing a record on. */
import type { FormId } from './codes.ts';

export const shareWords = {
  title: 'Hand this record on',
  lede: 'As it stands now. Nothing leaves the tablet by itself. A table or the calendar alone does not count as exported.',
  print: 'Print or save as PDF',
  printDone: 'Mark as exported on paper',
  share: 'Share',
  save: 'Save',
  shareName: (form: string): string => `Share: ${form}`,
  saveName: (form: string): string => `Save: ${form}`,
  forms: {
    text: { title: 'Plain text', about: 'The record as text' },
    json: { title: 'Journal', about: 'Every entry with its hash, JSON; to keep or read back' },
    facts: { title: 'Facts', about: 'Everything this page says, as JSON' },
    'csv-steps': { title: 'Steps', about: 'A table for a spreadsheet, CSV' },
    'csv-windows': { title: 'Windows', about: 'Limits with their margins, CSV' },
    fhir: { title: 'FHIR R4', about: 'A bundle for a clinic’s record system' },
    ical: { title: 'Calendar', about: 'Preparation, appointment, finishing visit' },
  } satisfies Record<FormId, { title: string; about: string }>,
  exported: (when: string): string => `Exported as it stands, ${when}.`,
  exportedBefore: (when: string): string => `Exported ${when}; entries were added since.`,
  notExported: 'Not exported yet.',
  failed: 'The file could not be made.',
  notMarked: 'It was handed on, but this window cannot note it.',
} as const;
