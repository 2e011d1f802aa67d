/** What the clinic said of its outcomes, as a fold of its entries. The order in which they came does not matter. Pure. */
import { isSameJson } from '../base/json.ts';
import { foldAgreements } from './agreements.ts';
import type { Entries, Entry } from './follow-up.ts';
import { rateOf } from './model/accepted.ts';
import type { Question, ReviewSaid, Reviews } from './review-types.ts';
import { readReviewSaid } from './schema-follow-up.ts';
import { END_POINTS } from './vocabulary.ts';

const isSame = (a: Question, b: Question | undefined): boolean =>
  a.endPoint === b?.endPoint &&
  isSameJson(a.limits.toSorted(), b.limits.toSorted()) &&
  END_POINTS.every((endPoint) => rateOf(a, endPoint) === rateOf(b, endPoint));

/** @param histories the entries of each item: of the question, the reviews, the flags. */
export function foldReviews<E extends Entry>(
  histories: readonly Entries<E>[],
): { readonly reviews: Reviews; readonly unread: readonly string[] } {
  const all = histories.flatMap((entries) =>
    entries.inOrder.map((entry) => ({ entries, entry, said: readReviewSaid(entry.said) })),
  );
  const told = <W extends ReviewSaid['what']>(what: W) =>
    all.flatMap(({ entries, entry, said }) => {
      const { id, by, atWallMs } = entry;
      return said?.what === what
        ? [
            {
              entries,
              entry,
              said: said as Extract<ReviewSaid, { what: W }>,
              teller: { id, by, atWallMs },
            },
          ]
        : [];
    });
  const questions = told('question-fixed');
  const isLast = (one: (typeof questions)[number]): boolean =>
    !questions.some(
      (other) => other.entries === one.entries && one.entries.isBefore(one.entry, other.entry),
    );
  const asked = ({ said, teller }: (typeof questions)[number]) => ({ ...said.question, ...teller });
  const last = questions.filter(isLast).map(asked);
  return {
    reviews: {
      question: last[0] ?? null,
      differing: last.some((one) => !isSame(one, last[0])) ? last : [],
      earlier: questions.filter((one) => !isLast(one)).map(asked),
      reviews: told('reviewed')
        .map(({ said, teller }) => ({ ...said.review, ...teller }))
        .toSorted((a, b) => (a.onDay < b.onDay ? -1 : a.onDay > b.onDay ? 1 : 0)),
      looked: told('flag-looked')
        .map(({ said, teller }) => ({ ...said.flag, ...teller }))
        .toSorted((a, b) => (a.lookedOn < b.lookedOn ? -1 : a.lookedOn > b.lookedOn ? 1 : 0)),
      agreed: foldAgreements(histories),
      livesLeft: told('lives-left')
        .map(({ said }) => said.caseId)
        .toSorted(),
    },
    unread: all.flatMap(({ entry, said }) => (said === null ? [entry.id] : [])),
  };
}
