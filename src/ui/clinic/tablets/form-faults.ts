/** What is wrong with what was typed: the place, what was expected there and what came. Pure. */
import { unreachable } from '../../../base/assert.ts';
import { PASSPHRASE_LENGTH_MIN } from '../../../runtime/lead/lead-passphrase.ts';
import { sharingWords } from '../../../words/sharing-words.ts';
import { codeFault } from './code-entry.ts';

const NAME_LENGTH_MAX = 40;

export function codeFaultWords(typed: string): string | undefined {
  const fault = codeFault(typed);
  const { codeFaults } = sharingWords;
  if (fault === null) return undefined;
  switch (fault.code) {
    case 'empty':
      return codeFaults.empty;
    case 'letter':
      return codeFaults.letter(fault);
    case 'short':
      return codeFaults.short(fault);
    case 'long':
      return codeFaults.long(fault);
    default:
      return unreachable(fault);
  }
}

/** @param others names of the other tablets that take part. */
export function nameFaultWords(name: string, others: readonly string[] = []): string | undefined {
  const { nameFaults } = sharingWords;
  const typed = name.trim();
  if (typed === '') return nameFaults.empty;
  const came = [...typed].length;
  if (came > NAME_LENGTH_MAX) return nameFaults.long({ came, of: NAME_LENGTH_MAX });
  const isTaken = others.some((other) => other.toLowerCase() === typed.toLowerCase());
  return isTaken ? nameFaults.taken(typed) : undefined;
}

/** Of a passphrase that is given to open something. */
export const givenFaultWords = (passphrase: string): string | undefined =>
  passphrase === '' ? sharingWords.passphraseFaults.empty : undefined;

/** Of a passphrase that is chosen: the rule of the desk. */
export function chosenFaultWords(passphrase: string): string | undefined {
  const { passphraseFaults } = sharingWords;
  if (passphrase === '') return passphraseFaults.empty;
  const came = [...passphrase].length;
  return came < PASSPHRASE_LENGTH_MIN
    ? passphraseFaults.short({ came, of: PASSPHRASE_LENGTH_MIN })
    : undefined;
}
