/**
 * What becomes of the follow-up of a case that is deleted: it goes with the case, or its lives stay behind
 * as counts. Those lead to nobody: no chart reference, title, people, lots, examiners or notes, and of all
 * days only the month of the bonding and how long after it something was found.
 */
import { ok, type Result } from '../../base/result.ts';
import { addDays, daysBetween } from '../../outcomes/days.ts';
import { DAYS_A_YEAR } from '../../outcomes/figures/sizes.ts';
import type { BondedCase, FollowUp, FollowUpSaid, Visit } from '../../outcomes/follow-up-types.ts';
import type { ReviewSaid } from '../../outcomes/review-types.ts';
import type { Journal, JournalProblem } from '../../storage/journal-types.ts';
import { asFact, asFacts, type Fact, factDocument, listFacts } from '../facts/fact.ts';
import { headsOf } from '../facts/fact-history.ts';
import { FOLLOW_UP, LIVES_LEFT, OUTCOME_REVIEW } from './follow-up-state.ts';

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

const HALF_YEAR = DAYS_A_YEAR / 2;

/** Up to when a case could have been seen, to the nearest half year: the day itself would tell which case was deleted then. */
const toHalfYears = (days: number): number =>
  Math.max(0, Math.round(Math.round(days / HALF_YEAR) * HALF_YEAR));

/** What stays of the lives of a case, under another name. @param o.today the day of the deletion. */
function leftLives(
  { bonded, visits }: FollowUp,
  o: { readonly patient: string; readonly today: string },
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
    followedDays: toHalfYears(daysBetween(bondedOn, o.today)),
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

/**
 * What the lives of a case become under a new name. Nothing is written here: they are kept in one step with the
 * deletion, or not at all.
 */
export function leftFacts(
  followUp: FollowUp,
  o: { readonly newId: () => string; readonly today: string },
): readonly Fact[] {
  const item = `left-${o.newId()}`;
  const said = leftLives(followUp, { patient: item, today: o.today });
  // The clock of the deletion would tell which case it was.
  return asFacts({ kind: FOLLOW_UP, item, said, after: [], tablet: '', by: null, atWallMs: 0 });
}

/** That the lives of a case were left: other tablets hear it with the deletion, and leave them no second time. */
export const livesLeftFact = (o: {
  readonly caseId: string;
  /** The facts of this item that are known. */
  readonly known: readonly Fact[];
  readonly tablet: string;
  readonly atWallMs: number;
}): Fact => {
  const { caseId, known, tablet, atWallMs } = o;
  const said: ReviewSaid = { what: 'lives-left', caseId };
  const about = { kind: OUTCOME_REVIEW, item: LIVES_LEFT, said, by: null } as const;
  return asFact({ ...about, after: headsOf(known), tablet, atWallMs });
};

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
