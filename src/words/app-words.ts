/** Names of the places, and what the app says about itself on every page. */
export const appWords = {
  places: {
    today: 'Today',
    'set-up': 'Set-up',
    plan: 'Plan',
    chair: 'Chair',
    record: 'Record',
    protocols: 'Protocols',
    materials: 'Materials',
    clinic: 'Clinic',
  },
  opening: 'Opening the records of this tablet',
  running: 'A case is running',
  reader: 'Another window is writing. This one reads along.',
  readerAdvice: 'Take over here if that window was left behind.',
  takeOver: 'Write here',
  takeOverForce: 'Write here all the same',
  refused: 'The other window is running a case and keeps writing.',
  silent: 'The other window does not answer.',
  notSaved: 'Not saved yet',
  notSavedAdvice: 'Leave this window open: it is tried again.',
  full: 'The storage of this tablet is full. Free some of it and leave this window open.',
  noWriter: 'The records of this tablet cannot be written.',
  noWriterAdvice: 'Close the other windows of this app and open it again.',
  oneCopy: 'This browser keeps one copy of the records, not two.',
  oneCopyAdvice: 'Export each case when it is closed.',
  rebuilt: 'The browser had thrown records away; they were rebuilt from the second copy.',
  fault: 'Something went wrong on this tablet.',
  faults: {
    'newer-format': 'A newer version of the app wrote its records. Let the app update itself.',
    'database-blocked': 'Another window held its records. Close it and open the app again.',
    'database-lost': 'The browser does not give its records out. A private window keeps none.',
  } satisfies Partial<Record<string, string>>,
  update: 'A newer version is on this tablet.',
  updateDo: 'Change to it',
  notFound: 'There is no such place.',
} as const;

/** What to do about a fault; its own line where nothing better is known. */
export function faultWords(fault: { readonly code?: string; readonly line: string }): string {
  const known: Readonly<Record<string, string>> = appWords.faults;
  return known[fault.code ?? ''] ?? fault.line;
}
