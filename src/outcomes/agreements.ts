/**
 * Who agreed that something is shown under the own name, and has not withdrawn it since. A withdrawal counts at once; where
 * two tablets said one thing each without knowing of the other, it is withdrawn. The order of the entries does not matter. Pure.
 */
import { present } from '../base/assert.ts';
import { personKey } from '../base/person-key.ts';
import { type Entries, type Entry, lastOf } from './follow-up.ts';
import type { Agreement, ReviewSaid } from './review-types.ts';
import { readReviewSaid } from './schema-follow-up.ts';

type Said = Extract<ReviewSaid, { what: 'person-agreed' | 'person-withdrew' }>;

interface Standing {
  readonly isAgreed: boolean;
  readonly agreement: Agreement;
}

const isOfPerson = (said: ReviewSaid | null): said is Said =>
  said?.what === 'person-agreed' || said?.what === 'person-withdrew';

const keyOf = ({ person, to }: Said): string => `${to} ${personKey(person)}`;

/** What the entries of one item say last, of each person and each thing. */
function standingIn<E extends Entry>(
  entries: Entries<E>,
): readonly (readonly [string, Standing])[] {
  const told = entries.inOrder.flatMap((entry) => {
    const said = readReviewSaid(entry.said);
    return isOfPerson(said) && personKey(said.person) !== '' ? [{ entry, said }] : [];
  });
  const byKey = new Map<string, (typeof told)[number][]>();
  for (const one of told) byKey.set(keyOf(one.said), [...(byKey.get(keyOf(one.said)) ?? []), one]);
  return [...byKey].map(([key, own]) => {
    const isAgreed = lastOf(entries, own).every(({ said }) => said.what === 'person-agreed');
    const { person, to, onDay } = present(own.at(-1), 'an entry').said;
    return [key, { isAgreed, agreement: { person, to, onDay } }] as const;
  });
}

/** @param histories the entries of each item. Answers with what stands, by name. */
export function foldAgreements<E extends Entry>(
  histories: readonly Entries<E>[],
): readonly Agreement[] {
  const all = new Map<string, Standing>();
  for (const [key, standing] of histories.flatMap(standingIn)) {
    // One that was withdrawn anywhere is withdrawn.
    if (all.get(key)?.isAgreed !== false) all.set(key, standing);
  }
  return [...all.values()]
    .flatMap(({ isAgreed, agreement }) => (isAgreed ? [agreement] : []))
    .toSorted((a, b) => (a.person < b.person ? -1 : a.person > b.person ? 1 : 0));
}

/** Whether this person has agreed, however the name is written. */
export const hasAgreed = (
  agreed: readonly Agreement[],
  { person, to }: Pick<Agreement, 'person' | 'to'>,
): boolean => agreed.some((a) => a.to === to && personKey(a.person) === personKey(person));
