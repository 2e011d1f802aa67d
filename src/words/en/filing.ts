/** Words of what a clinic says about the files that it hands on, and of its opening hours. */
export const filing = {
  title: 'Files and calendar',
  lede: 'For records that are handed on. What is left empty here is not in the file.',
  chartSystem: 'System of the chart references',
  chartSystemHint:
    'A web address or urn:oid: under which your chart references are unique. FHIR files carry it.',
  noUri:
    'This is not a complete address. Write https:// and what follows, or urn:oid: and the number.',
  procedureSystem: 'Code system of the procedures',
  procedureSystemHint: 'Its web address or urn:oid:, as the receiver knows it.',
  noSystem: 'The codes below need a system; without one they are left out.',
  procedureCodes: 'Procedure codes',
  procedureCodesHint: (kinds: string): string =>
    `One line for each kind of restoration, such as “veneer = CODE”, and “* = CODE” for all others. Kinds here: ${kinds}`,
  badLine: (line: number): string =>
    `Line ${line} cannot be read, or its kind comes twice. Write the kind, an equals sign and the code.`,
  byteOrderMark: 'Tables for spreadsheets begin with a byte-order mark',
  byteOrderMarkNote:
    'Turn it on where a spreadsheet shows letters such as é or ü as two characters.',
  hours: 'Opening hours',
  hoursLede:
    'The calendar offers the finishing visit and the preparation of the day before within them. Empty is closed; while all are empty, any hour is offered.',
  hoursHint: 'Such as 08:00-12:30, 14:00-18:00',
  badHours: 'Write hours as 08:00-12:30, 14:00-18:00, the earlier first.',
  days: ['Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday', 'Sunday'],
  asMonday: 'Tuesday to Friday as Monday',
};
