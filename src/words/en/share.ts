/** Sharing a record. */
import type { FormId } from '../codes.ts';

export const share = {
  title: 'Share this record',
  lede: 'As it stands now. Nothing leaves the tablet by itself. A table or the calendar alone does not count as exported.',
  print: 'Print or save as PDF',
  printDone: 'Mark as exported on paper',
  share: 'Share',
  save: 'Save',
  shareName: (form: string): string => `Share: ${form}`,
  saveName: (form: string): string => `Save: ${form}`,
  forms: {
    text: { title: 'Plain text', about: 'The record as text' },
    json: { title: 'Journal', about: 'Every entry with its hash, as JSON; can be read back' },
    facts: { title: 'Facts', about: 'Everything on this page, as JSON' },
    'csv-steps': { title: 'Steps', about: 'A table for a spreadsheet, CSV' },
    'csv-windows': { title: 'Windows', about: 'Limits with their margins, CSV' },
    fhir: { title: 'FHIR R4', about: 'A bundle for a clinic’s record system' },
    ical: { title: 'Calendar', about: 'Preparation, appointment, finishing visit' },
  } satisfies Record<FormId, { readonly title: string; readonly about: string }>,
  noChartSystem:
    'The chart reference goes without a system: none is set under Clinic, Files and calendar.',
  rehearsalChart: 'A rehearsal: its chart reference goes without the clinic’s system.',
  exported: (when: string): string => `Exported as it stands, ${when}.`,
  exportedBefore: (when: string): string => `Exported ${when}; entries were added since.`,
  notExported: 'Not exported yet.',
  failed: 'The file could not be made.',
  notMarked: 'It was shared, but this window cannot mark it as exported.',
};
