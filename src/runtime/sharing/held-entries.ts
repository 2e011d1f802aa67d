/** Entries of a message that are put apart until what comes before them is here. */
import type { Change, HeldEntries } from '../../sync/sharing-database.ts';
import type { StoredMessage } from '../../sync/store-types.ts';
import { partsOf } from '../../sync/subjects.ts';

/** The entries that a message of a tablet holds. */
export function heldOf(
  { subject, seq }: Pick<StoredMessage, 'subject' | 'seq'>,
  said: Pick<HeldEntries, 'caseId' | 'device' | 'entries'>,
): HeldEntries {
  const { caseId, device, entries } = said;
  return { caseId, at: partsOf(subject).number, subject, device, entries, seq };
}

export const heldFor = (put: HeldEntries): Change => ({ room: 'held', put });

export const heldNoMore = ({ caseId, at, subject }: HeldEntries): Change => ({
  room: 'held',
  drop: [caseId, at, subject],
});
