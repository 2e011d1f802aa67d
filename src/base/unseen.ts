/**
 * Characters that nobody sees and that change what is seen: controls (general category Cc of the
 * Unicode Character Database) can move the cursor of a terminal, and those that turn the direction
 * of text (property Bidi_Control, Unicode Standard Annex 9) can show a text in another order than
 * it is stored in.
 */

/** In text from outside, line feed and tab may stand. */
const UNSEEN = /\p{Bidi_Control}|[^\P{Cc}\n\t]/u;
/** In text that goes out, a carriage return may also end a line, before its line feed. */
const UNSEEN_OUT = /\p{Bidi_Control}|\r(?!\n)|[^\P{Cc}\n\t\r]/gu;
/** A line also ends at the separators of lines and paragraphs (categories Zl and Zp). */
const ALL = /\p{Bidi_Control}|\p{Cc}|\p{Zl}|\p{Zp}/gu;

const HEX_DIGITS = 4;

/** `\u202e`: the character as JSON writes it. */
export function escapeOf(character: string): string {
  return `\\u${character.charCodeAt(0).toString(16).padStart(HEX_DIGITS, '0')}`;
}

/** The first character of `text` that nobody sees, or null. */
export function unseenIn(text: string): string | null {
  return UNSEEN.exec(text)?.[0] ?? null;
}

/** `text` with what nobody sees as escapes; line feeds, line ends of two characters and tabs stay. */
export function escapeUnseen(text: string): string {
  return text.replaceAll(UNSEEN_OUT, escapeOf);
}

/** The same for text that must stay on one line. */
export function escapeLine(text: string): string {
  return text.replaceAll(ALL, escapeOf);
}
