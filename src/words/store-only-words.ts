/** Words of cases whose entries lie on the clinic's store alone. */
import { storeOnly } from './en/store-only.ts';
import { spoken } from './language.ts';

export const storeOnlyWords = spoken('storeOnly', storeOnly);

const LINE: ReadonlySet<string> = new Set([
  'not-connected',
  'no-answer',
  'closed',
  'not-paired',
  'refused',
]);

/** Why a case was not fetched, by the code of the problem. */
export function notFetchedWords(code: string): string {
  const { why } = storeOnlyWords;
  if (LINE.has(code)) return why.line;
  if (code === 'not-writer') return why.window;
  return code === 'gone' ? why.gone : why.other;
}
