/**
 * The code of an invitation as it is typed: sixteen characters of Crockford's base 32 in four groups of four.
 * Small and capital letters are one, O is 0, I and L are 1, and spaces and hyphens say nothing
 * (Douglas Crockford, Base 32, crockford.com/base32.html). Pure.
 */

const GROUP = 4;
const GROUPS = 4;
export const CODE_LENGTH = GROUP * GROUPS;

const NOTHING = /[\s\-–—_.]/g;
const LOOK_ALIKE: Readonly<Record<string, string>> = { O: '0', I: '1', L: '1' };
const LETTER = /[0-9A-HJKMNP-TV-Z]/;

/** The characters that count, with look-alikes corrected; what is in no code stays, to be told. */
export const codeCharacters = (typed: string): string =>
  [...typed.toUpperCase().replaceAll(NOTHING, '')].map((each) => LOOK_ALIKE[each] ?? each).join('');

/** In groups, as it is read aloud. */
export const inGroups = (characters: string): string =>
  (characters.match(new RegExp(`.{1,${GROUP}}`, 'gu')) ?? []).join(' ');

export type CodeFault =
  | { readonly code: 'empty' }
  | { readonly code: 'letter'; readonly group: number; readonly came: string }
  | { readonly code: 'short'; readonly came: number; readonly of: number; readonly group: number }
  | { readonly code: 'long'; readonly came: number; readonly of: number };

/** The first thing that is wrong with a code; null where it may be one. Groups count from 1. */
export function codeFault(typed: string): CodeFault | null {
  const characters = [...codeCharacters(typed)];
  const groupOf = (at: number): number => Math.floor(at / GROUP) + 1;
  if (characters.length === 0) return { code: 'empty' };
  const at = characters.findIndex((each) => !LETTER.test(each));
  if (at >= 0) return { code: 'letter', group: groupOf(at), came: characters[at] ?? '' };
  const came = characters.length;
  if (came < CODE_LENGTH) return { code: 'short', came, of: CODE_LENGTH, group: groupOf(came) };
  return came > CODE_LENGTH ? { code: 'long', came, of: CODE_LENGTH } : null;
}

/** Where the caret stands in `inGroups` after so many of its characters. */
export const caretAfter = (count: number): number =>
  count + Math.max(0, Math.floor((count - 1) / GROUP));
