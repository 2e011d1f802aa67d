/** Deletes a case with everything that is kept beside its entries. */
import type { Problem } from '../../base/problem.ts';
import { ok, type Result } from '../../base/result.ts';
import type { Stamp } from '../../engine/types.ts';
import type { Journal } from '../../storage/journal-types.ts';
import { forgetApartOf } from '../backup/set-apart.ts';
import { documentOf } from '../facts/fact.ts';
import type { FollowUps } from '../follow-up/follow-ups.ts';
import { forgetFollowUp, type LivesOfDeleted } from '../follow-up/forget-follow-up.ts';

export interface DeletionParts {
  readonly journal: Journal;
  readonly epoch: number;
  readonly followUps?: (() => Promise<Pick<FollowUps, 'livesToLeave' | 'deleted'>>) | undefined;
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
  const toLeave = lives === 'left' ? await follow?.livesToLeave(caseId) : undefined;
  if (toLeave?.ok === false) return toLeave;
  const left = toLeave?.value ?? [];
  // In one step: whatever happens now, the lives count once.
  const buried = await journal.deleteCase({ ...deletion, epoch, leaves: left.map(documentOf) });
  if (!buried.ok) return buried;
  const gone = await forgetFollowUp(journal, { caseId, epoch });
  if (!gone.ok) return gone;
  await follow?.deleted(caseId, left);
  const forgotten = await forgetApartOf(journal, { caseId, epoch });
  return forgotten.ok ? ok(null) : forgotten;
}
