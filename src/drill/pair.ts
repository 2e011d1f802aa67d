/**
 * Who did a drill: one who leads and one who assists. Which of the two was which makes no other pair, and neither does the
 * way in which a name is written. One name alone stands for itself. Pure.
 */
import { personKey } from '../base/person-key.ts';

export interface Pair {
  /** A name, without blanks around it; empty where nobody was named. */
  readonly lead: string;
  readonly assists: string;
}

/** Null where nobody is named. The same name twice is one person, who leads. */
export function pairOf({ lead, assists }: Pair): Pair | null {
  const named = (name: string): string => (personKey(name) === '' ? '' : name.trim());
  const isOne = personKey(lead) === personKey(assists);
  const pair = { lead: named(lead), assists: isOne ? '' : named(assists) };
  return pair.lead === '' && pair.assists === '' ? null : pair;
}

/** The same for the same people. */
export const pairKey = ({ lead, assists }: Pair): string =>
  [...new Set([lead, assists].map(personKey))]
    .filter((key) => key !== '')
    .toSorted()
    .join(' ');

export const isSamePair = (a: Pair | null | undefined, b: Pair | null | undefined): boolean =>
  (a && pairKey(a)) === (b && pairKey(b));

export const isIn = (person: string, { lead, assists }: Pair): boolean =>
  personKey(person) !== '' && [lead, assists].map(personKey).includes(personKey(person));

/** The other one; empty where there is none. */
export function partnerOf(person: string, { lead, assists }: Pair): string {
  const other = [lead, assists].find((name) => personKey(name) !== personKey(person));
  return other ?? '';
}
