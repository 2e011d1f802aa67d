/** How a revision stands, in words. */
import type { Revision } from '../../runtime/lead/lead-revisions.ts';
import { leadWords } from '../../words/lead-words.ts';

export function standingWords(revision: Revision): string {
  const { retirement } = revision;
  if (retirement === null) {
    return revision.beforeReset ? leadWords.inUseBeforeReset : leadWords.inUse;
  }
  return revision.beforeReset
    ? leadWords.retiredBeforeReset(retirement.reason)
    : leadWords.retired(retirement.reason);
}
