import type { Problem } from '../../base/problem.ts';
import { openingWords } from '../../words/opening-words.ts';

/** Why a case could not be taken up again. */
export function CaseNotOpened({ why }: { readonly why: Problem }) {
  const { what, todo } = openingWords(why);
  return (
    <p className="today-refusal" role="alert">
      {what} {todo}
    </p>
  );
}
