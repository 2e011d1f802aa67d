/** What can be done about the follow-up of one case. Each answers with words of why it was not kept; null when it was. */
import { useLocation } from 'wouter';
import type { Problem } from '../../base/problem.ts';
import type { Result } from '../../base/result.ts';
import type { VisitSide } from '../../outcomes/follow-up-types.ts';
import type { FollowUpRow } from '../../runtime/follow-up/follow-up-state.ts';
import type { FollowUps } from '../../runtime/follow-up/follow-ups.ts';
import { notKeptWords } from '../../words/opening-words.ts';
import { chooseExaminer, useExaminer } from './examiner.ts';

/** Why, and who says so. */
export interface Said {
  readonly reason: string;
  readonly by: string;
}

export type Deed = Promise<string | null>;

export interface FollowUpDeeds {
  readonly strike: (o: Said & { readonly of: string; readonly seen: readonly string[] }) => Deed;
  readonly takeSide: (o: Said & { readonly side: VisitSide }) => Deed;
  readonly end: (o: Said) => Deed;
  readonly resume: () => Deed;
  readonly takeOut: (o: Said) => Deed;
}

export function useFollowUpDeeds(o: {
  readonly row: FollowUpRow;
  readonly followUps: FollowUps;
  readonly list: readonly FollowUpRow[];
}): { readonly who: string; readonly deeds: FollowUpDeeds } {
  const [, navigate] = useLocation();
  const { row, followUps, list } = o;
  const who = useExaminer(list)(row);
  const { caseId } = row;
  const done = async (by: string, kept: Promise<Result<unknown, Problem>>): Deed => {
    const told = await kept;
    if (!told.ok) return notKeptWords(told.error);
    chooseExaminer(by);
    return null;
  };
  const deeds: FollowUpDeeds = {
    strike: ({ of, seen, reason, by }) =>
      done(by, followUps.strikeVisit({ caseId, of, seen, reason, by })),
    takeSide: ({ side, reason, by }) => {
      const about = { caseId, of: side.id, reason, by };
      return done(
        by,
        side.visit === null
          ? followUps.strikeVisit(about)
          : followUps.correctVisit({ ...about, visit: side.visit }),
      );
    },
    end: ({ reason, by }) => done(by, followUps.endRecalls({ caseId, reason, by })),
    resume: () => done(who, followUps.resumeRecalls({ caseId, by: who === '' ? null : who })),
    takeOut: async ({ reason, by }) => {
      const lost = await done(by, followUps.withdrawEarlier({ caseId, reason, by }));
      if (lost === null) navigate('/follow-up', { replace: true });
      return lost;
    },
  };
  return { who, deeds };
}
