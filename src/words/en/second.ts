/** Words of the second person who confirms a revision. */
import { listIn } from '../grammar.ts';

const list = listIn('en-GB');

export const second = {
  ask: 'A second person confirms each revision',
  askNote:
    'Somebody else reads every number on the page “Confirm” and presses there. Both names stand in the log, on the wall card and in the records.',
  title: 'The second person',
  lede: 'Read each number beside its document, material by material. Then give your name and press.',
  name: 'Second person',
  nameHint: 'Somebody who has not worked on this draft',
  read: (title: string): string => `I have read these: ${title}`,
  readFirst: (titles: readonly string[]): string =>
    `Read these too, and tick them: ${list(titles)}.`,
};
