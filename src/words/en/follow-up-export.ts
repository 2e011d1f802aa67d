/** Handing on what became of the units. */
export const followUpExport = {
  title: 'Hand on what became of the units',
  lede: 'One row or Observation for each unit at each visit, as it stands now. Nothing leaves the tablet by itself.',
  ledeCase: 'The follow-up of this case, as it stands now. Nothing leaves the tablet by itself.',
  forms: {
    csv: {
      title: 'Lives and visits',
      about: 'A table for a spreadsheet, CSV: with each life, its limits, revision and lots',
    },
    fhir: {
      title: 'Follow-up in FHIR R4',
      about: 'Observations for a clinic’s record system; none of a deleted case',
    },
    json: {
      title: 'Entries of the follow-up',
      about: 'Every entry with its hash, as JSON, for keeping; the terminal reads it',
    },
  },
  done: (name: string): string => `Saved as ${name}.`,
};
