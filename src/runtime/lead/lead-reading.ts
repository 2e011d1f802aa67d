/** What the desk reads of the tablet whenever something changed. */
import type { Journal } from '../../storage/journal-types.ts';
import { readDrafts } from './lead-drafts.ts';
import { readLeadLogs, refusalsTold } from './lead-log.ts';
import type { RefusedDocument, Revisions } from './lead-revisions.ts';
import { asksSecond } from './lead-second.ts';
import type { LeadState } from './lead-state.ts';

/** The part of the state that lies in documents; logs that cannot be read leave what was known of them. */
export async function readDeskState(
  journal: Journal,
  { all, refused }: Pick<Revisions, 'all' | 'refused'>,
): Promise<Partial<LeadState>> {
  const logs = await readLeadLogs(journal);
  const drafts = await readDrafts(journal);
  const logged = logs.ok && {
    log: logs.value.log,
    otherLogs: logs.value.others,
    asksSecond: asksSecond(logs.value.log),
  };
  return { isRead: true, drafts, revisions: all, refused, ...logged };
}

/** What was found not to be as it was confirmed, and stands in no log yet. */
export async function untold(
  journal: Journal,
  refused: readonly RefusedDocument[],
): Promise<readonly RefusedDocument[]> {
  const logs = await readLeadLogs(journal);
  const told = refusalsTold(logs.ok ? logs.value.log.entries : []);
  return refused.filter(({ id, storedHash }) => !told.has(`${id} ${storedHash}`));
}
