/** What speaks against a lot, by its code. */
import { unreachable } from '../base/assert.ts';
import type { MaterialWarning } from './codes.ts';
import { materialWarning } from './en/material-warning.ts';
import { spoken } from './language.ts';

export const materialWarningWords = spoken('materialWarning', materialWarning);

/** One line for what speaks against using a lot now. */
export function warningWords(warning: MaterialWarning): string {
  const words = materialWarningWords;
  switch (warning.code) {
    case 'recalled':
      return warning.reason === '' ? words.recalled : words.recalledWhy(warning.reason);
    case 'expired':
      return words.expired(warning.days);
    case 'opened-too-long':
      return words.openedTooLong(warning.days);
    case 'still-cold':
      return warning.minutes === null ? words.notTakenOut : words.stillCold(warning.minutes);
    default:
      return unreachable(warning);
  }
}

/** What was said about a lot when it was named; a code of a later version stays as it is. */
export function warningWhenNamedWords(code: string): string {
  const known: Readonly<Record<string, string>> = materialWarningWords.whenNamed;
  return known[code] ?? code;
}
