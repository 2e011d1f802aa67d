/** Finds a lot in what people wrote. Pure; apart from the comparison, which the first screen needs. */
import { lotKey } from './same-lot.ts';

const wordsOf = (text: string, between: RegExp): readonly string[] =>
  text
    .split(between)
    .map((word) => lotKey(word.replace(/^[.#'"]+|[.'"]+$/g, '')))
    .filter(Boolean);

/** Whether the words of a text, from any one to any other, are the lot with whatever parts it. */
function isAmong(words: readonly string[], lot: string): boolean {
  return words.some((_, from) => {
    let joined = '';
    for (const word of words.slice(from)) {
      joined += word;
      if (joined.length >= lot.length) break;
    }
    return joined === lot;
  });
}

/** Whether a lot stands in what somebody wrote, alone or among other words: `LOT AB 12, exp 2027-01`. */
export function namesLot(text: string, lot: string): boolean {
  const wanted = lotKey(lot);
  if (wanted === '') return false;
  return (
    lotKey(text) === wanted ||
    // A slash may part two lots, or be of one.
    isAmong(wordsOf(text, /[\s,;:()[\]=]+/), wanted) ||
    isAmong(wordsOf(text, /[\s,;:()[\]=/+&|]+/), wanted)
  );
}
