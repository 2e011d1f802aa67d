import type { KeyVerb } from './codes.ts';
import { key } from './en/key.ts';
import { spoken } from './language.ts';

/** Words for testing and teaching keys and pedals. */
export const keyWords = spoken('key', key);

/** What a key that was pressed in the test does; null when it means nothing yet. */
export function seenKeyWords(seen: {
  readonly key: string;
  readonly verb: KeyVerb | null;
}): string {
  return seen.verb === null ? keyWords.seenUnknown(seen.key) : keyWords.seen[seen.verb](seen.key);
}
