/** Deletes a case with everything that is kept beside its entries. */
import type { Problem } from '../../base/problem.ts';
import { ok, type Result } from '../../base/result.ts';
import type { Stamp } from '../../engine/types.ts';
import type { Journal } from '../../storage/journal-types.ts';
import { forgetApartOf } from '../backup/set-apart.ts';
import type { FollowUps } from '../follow-up/follow-ups.ts';
import { forgetFollowUp, type LivesOfDeleted } from '../follow-up/forget-follow-up.ts';

export interface DeletionParts {
  readonly journal: Journal;
  readonly epoch: number;
  readonly followUps?:
    | (() => Promise<Pick<FollowUps, 'leaveLives' | 'forgotten' | 'withdrawLeft'>>)
    | undefined;
}

/** Errors: those of the journal. */
export async function deleteFollowed(
  { journal, epoch, followUps }: DeletionParts,
  o: {
    readonly caseId: string;
    readonly stamp: Stamp;
    readonly by: string;
    readonly reason: string;
    readonly lives?: LivesOfDeleted;
  },
): Promise<Result<null, Problem>> {
  const { lives = 'taken', ...deletion } = o;
  const { caseId } = o;
  const follow = await followUps?.();
  const left = lives === 'left' ? await follow?.leaveLives(caseId) : undefined;
  if (left?.ok === false) return left;
  const buried = await journal.deleteCase({ ...deletion, epoch });
  if (!buried.ok) {
    // Else its lives would count twice.
    if (left?.value) await follow?.withdrawLeft(left.value);
    return buried;
  }
  const gone = await forgetFollowUp(journal, { caseId, epoch });
  if (!gone.ok) return gone;
  follow?.forgotten(caseId);
  const forgotten = await forgetApartOf(journal, { caseId, epoch });
  return forgotten.ok ? ok(null) : forgotten;
}
