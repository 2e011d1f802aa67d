/** Why a case was not opened, and what to do about it. */
import { listIn } from '../grammar.ts';

const list = listIn('en-GB');

export const opening = {
  notWriter: 'This window is view only.',
  notWriterTodo: 'Press "Take over here" above, then begin.',
  holdRuns: (until: string): string => `The hold since the last light runs until ${until}.`,
  holdRunsTodo: 'Contacts and margins are left until then.',
  notKept: {
    'not-writer': 'This window is view only. Press "Take over here" above first.',
    'stale-epoch': 'Another window writes now. Press "Take over here" above first.',
    'database-full': 'The storage of this tablet is full. Free some space first.',
    'not-exported': 'Export the case first.',
    'no-such-case': 'It is no longer on this tablet.',
    'case-deleted': 'It was deleted on this tablet.',
  },
  tryAgain: 'It did not work. Try again, and if that fails close the app and open it.',
  begunBefore: 'This case was begun already. A case can be begun only once.',
  closedBefore: 'This case was begun and closed. A case can be begun only once.',
  patientRuns: 'A patient’s case is running.',
  patientRunsTodo: 'Go on with it, or stop watching it: its clocks then sound no more.',
  patientOpen: 'A patient’s case is open on this tablet.',
  patientOpenTodo: 'A drill never runs beside it. Close that case first.',
  drillNotDrawn: 'The drill could not be drawn.',
  drillNotDrawnTodo: 'Nothing was begun. Press Drill again.',
  toChair: 'Go on with it',
  putDown: 'Stop watching it',
  noProtocol: 'The protocol of this case is not on this tablet.',
  noProtocolTodo: 'Change the case and choose another protocol.',
  notOpened: 'The case could not be opened.',
  openProtocol: 'Open the protocol',
  notAsked: (o: { readonly ids: string; readonly facts: readonly string[] }): string =>
    `Not asked yet for ${o.ids}: ${list(o.facts)}.`,
};
