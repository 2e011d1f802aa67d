/** Words of a difference between two protocols. */
import { change } from './en/change.ts';
import { figureLabel, isFigureKey } from './figure-words.ts';
import { spoken } from './language.ts';

export const changeWords = spoken('change', change);

/** What a field is called, by its dotted key; the key itself when it has no words. */
function fieldName(part: string, key: string): string {
  const ofPart: Readonly<Record<string, string>> = changeWords.fieldsOfPart;
  const known: Readonly<Record<string, string>> = changeWords.fields;
  return ofPart[`${part}.${key}`] ?? known[key] ?? key;
}

/** What a field or a number is called: "limit", "waits for". */
export function fieldWords(part: string, key: string): string {
  return isFigureKey(key) ? figureLabel(key) : fieldName(part, key);
}
