/** Protocols in the pseudo-language, as translations that lie beside the documents. */
import type { Translation } from '../../src/protocol/parse-translation.ts';
import { toldTexts } from '../../src/protocol/told-texts.ts';
import { textHash } from '../../src/protocol/translate.ts';
import type { Protocol } from '../../src/protocol/types.ts';
import { accented, pseudoText } from './pseudo-text.ts';

/** English in accents, as the Unicode Common Locale Data Repository names its pseudo-locale. */
export const PSEUDO_TAG = 'en-XA';

/** Titles are read from two metres: the most characters of a step's and of a window's. */
export const TITLE_LENGTH_MAX = { step: 14, window: 24 } as const;

/** What the app puts into a text, such as `{subject}`, stays as it is. */
function pseudoWithPlaces(text: string): string {
  return text
    .split(/(\{\w+\})/)
    .map((part) => (part.startsWith('{') ? part : pseudoText(part)))
    .join('');
}

/** As long as it may be; without brackets where there is no room for them. */
function pseudoTitle(title: string, lengthMax: number): string {
  const longest = [pseudoText(title), accented(title)].map((text) => `⟦${text}⟧`);
  return longest.find((text) => text.length <= lengthMax) ?? accented(title);
}

/** The shortest limit that a text has anywhere in the protocol. */
function limitsOf(protocol: Protocol): ReadonlyMap<string, number> {
  const windows = protocol.windows.map((w): [string, number] => [w.title, TITLE_LENGTH_MAX.window]);
  const steps = protocol.steps.map((s): [string, number] => [s.title, TITLE_LENGTH_MAX.step]);
  return new Map([...windows, ...steps]);
}

/** A whole translation of a protocol. */
export function pseudoTranslation(protocol: Protocol): Translation {
  const limits = limitsOf(protocol);
  const texts = toldTexts(protocol).map((text): [string, string] => {
    const lengthMax = limits.get(text);
    const said =
      lengthMax === undefined ? `⟦${pseudoWithPlaces(text)}⟧` : pseudoTitle(text, lengthMax);
    return [textHash(text), said];
  });
  return { protocol: protocol.id, language: PSEUDO_TAG, texts: Object.fromEntries(texts) };
}
