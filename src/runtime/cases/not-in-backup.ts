/** What a backup does not hold it names: the cases whose entries lie on the clinic's store alone. */
import type { Journal } from '../../storage/journal-types.ts';
import { THIS_TABLET } from '../lead/lead-documents.ts';
import type { CaseFacts } from './cases-list-facts.ts';

const NOT_IN_BACKUP = 'not-in-backup';

/** The document that goes into the next backup; null where there is nothing to say and nothing was said before. */
export async function namedElsewhere(
  { documents }: Pick<Journal, 'documents'>,
  cases: readonly Pick<CaseFacts, 'caseId'>[],
) {
  const before = await documents.get(NOT_IN_BACKUP, { id: THIS_TABLET });
  if (cases.length === 0 && before.ok && before.value === null) return null;
  // Ids alone: a title would stay in a file after its case was deleted.
  const value = { cases: cases.map(({ caseId }) => caseId).toSorted() };
  return { kind: NOT_IN_BACKUP, id: THIS_TABLET, value };
}
