/**
 * What becomes of the follow-up of a case that is deleted: it goes with the case, or its lives stay behind
 * as counts. Those lead to nobody: no chart reference, title, people, lots, examiners or notes, and of all
 * days only the month of the bonding and how long after it something was found.
 */
import type { Problem } from '../../base/problem.ts';
import { ok, type Result } from '../../base/result.ts';
import { addDays, daysBetween } from '../../outcomes/days.ts';
import type { BondedCase, FollowUp, FollowUpSaid, Visit } from '../../outcomes/follow-up-types.ts';
import type { Journal, JournalProblem } from '../../storage/journal-types.ts';
import { type Fact, factDocument, listFacts } from '../facts/fact.ts';
import { type FactParts, say } from '../facts/fact-writer.ts';
import { FOLLOW_UP } from './follow-up-state.ts';

/** What people chose for the lives of a case that they delete. */
export type LivesOfDeleted = 'taken' | 'left';

/** The first day of its month. */
const monthOf = (day: string): string => `${day.slice(0, 7)}-01`;

interface Moved {
  readonly from: string;
  readonly to: string;
}

/** As long after the moved day as it was after the true one. */
const moved = (day: string, { from, to }: Moved): string => addDays(to, daysBetween(from, day));

function leftVisit({ onDay, isOwnWork, units }: Visit, by: Moved): Visit {
  return {
    onDay: moved(onDay, by),
    examiner: '',
    isOwnWork,
    units: units.map(({ statedDay, bondedAgainIn: _, ...unit }) => ({
      ...unit,
      ...(statedDay === undefined ? {} : { statedDay: moved(statedDay, by) }),
    })),
  };
}

/** What stays of the lives of a case, under another name. */
export function leftLives(
  { bonded, visits }: FollowUp,
  o: { readonly patient: string },
): readonly FollowUpSaid[] {
  if (bonded === null) return [];
  const { bondedOn, seenFrom, protocol, units } = bonded;
  const by = { from: bondedOn, to: monthOf(bondedOn) };
  const left: BondedCase = {
    what: 'bonded',
    patient: o.patient,
    title: '',
    bondedOn: by.to,
    ...(seenFrom === undefined ? {} : { seenFrom: moved(seenFrom, by) }),
    ...(protocol === undefined ? {} : { protocol }),
    people: [],
    lots: [],
    units,
  };
  const told = visits.map(
    ({ visit }) => ({ what: 'visited', visit: leftVisit(visit, by) }) as const,
  );
  return [left, ...told];
}

/** Leaves the lives of a case behind under a new name; returns what was kept. Errors: `not-writer`, the journal's. */
export async function leaveLives(
  parts: FactParts,
  o: { readonly followUp: FollowUp; readonly newId: () => string },
): Promise<Result<readonly Fact[], Problem>> {
  const item = `left-${o.newId()}`;
  const said = leftLives(o.followUp, { patient: item });
  // The clock of the deletion would tell which case it was.
  const own = { ...parts, tablet: () => '', nowWallMs: () => 0 };
  const about = { kind: FOLLOW_UP, item, said, by: null, known: () => [] } as const;
  return say(own, about);
}

/** Takes every entry of a case away for good. Errors: the journal's. */
export async function forgetFollowUp(
  journal: Pick<Journal, 'documents'>,
  o: { readonly caseId: string; readonly epoch: number },
): Promise<Result<null, JournalProblem>> {
  const listed = await listFacts(journal, FOLLOW_UP);
  if (!listed.ok) return listed;
  for (const { id, item } of listed.value.facts) {
    if (item !== o.caseId) continue;
    const { epoch } = o;
    const gone = await journal.documents.delete({ kind: factDocument(FOLLOW_UP), id, epoch });
    if (!gone.ok) return gone;
  }
  return ok(null);
}
