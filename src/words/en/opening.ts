/** Why a case was not opened, and what to do about it. */
import { listIn } from '../grammar.ts';

const list = listIn('en-GB');

export const opening = {
  notWriter: 'This window is view only.',
  notWriterTodo: 'Press "Take over here" above, then begin.',
  holdRuns: (until: string): string => `The hold since the last light runs until ${until}.`,
  holdRunsTodo: 'Contacts and margins are left until then.',
  noProtocol: 'The protocol of this case is not on this tablet.',
  noProtocolTodo: 'Change the case and choose another protocol.',
  notOpened: 'The case could not be opened.',
  openProtocol: 'Open the protocol',
  notAsked: (o: { readonly ids: string; readonly facts: readonly string[] }): string =>
    `Not asked yet for ${o.ids}: ${list(o.facts)}.`,
};
