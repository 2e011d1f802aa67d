/** What follows when the case on the chair is closed, or its closing is taken back. */
import type { RunningCase } from '../app-state.ts';
import type { FollowUps } from '../follow-up/follow-ups.ts';
import { keepFinishing } from '../library/finishing-visit.ts';
import type { CasesList } from './cases-list.ts';

type Keeper = Parameters<typeof keepFinishing>[0];

/**
 * Keeps or takes back the finishing visit, what the case bonded, and what the list of cases tells of the case: it is there
 * as it stands, so that no later list has to read it.
 * @param o.id of the visit, should there be one.
 */
export async function afterClosing(
  session: Keeper & {
    readonly casesList: Pick<CasesList, 'keepFacts'>;
    readonly followUps: () => Promise<Pick<FollowUps, 'closingTurned'>>;
  },
  o: Pick<RunningCase, 'caseId' | 'log'> & { readonly id: string },
): Promise<void> {
  await keepFinishing(session, o);
  // A case that could not be noted now is taken in when the follow-up is opened.
  if (o.log.state.opened.mode === 'patient') await (await session.followUps()).closingTurned(o);
  const summary = session.store.getState().cases.find(({ caseId }) => caseId === o.caseId);
  if (summary?.entries === o.log.records.length) await session.casesList.keepFacts(summary, o.log);
}
