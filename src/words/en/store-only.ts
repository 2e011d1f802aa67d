/** Cases of other tablets whose entries lie on the clinic’s store alone. */
import { pluralIn } from '../grammar.ts';

const plural = pluralIn('en');

export const storeOnly = {
  mark: 'on the clinic’s store',
  inBackup: (cases: number): string =>
    plural(cases, {
      one: '1 older case of another tablet lies on the clinic’s store alone. The backup says which, and does not hold it. Open it first if you want it in the file.',
      other: `${cases} older cases of other tablets lie on the clinic’s store alone. The backup says which, and does not hold them. Open a case first if you want it in the file.`,
    }),
  fetching: 'Fetching this case from the clinic’s store.',
  progress: (o: { readonly done: number; readonly of: number }): string =>
    `${o.done} of ${o.of} messages are here.`,
  notFetched: 'This case could not be fetched.',
  nothingLost:
    'Nothing is lost by it: the case lies on the store, and whole on the tablet that wrote it.',
  why: {
    line: 'There is no line to the store. Try again when there is one.',
    window: 'Another window of this tablet shares. Open the case there.',
    gone: 'The store does not have all of it now. The tablet that wrote it hands it over again.',
    other: 'What came is not the case that was listed, or could not be kept here.',
  },
  again: 'Try again',
};
