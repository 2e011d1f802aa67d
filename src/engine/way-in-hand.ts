/** The ways back that are being carried out: nothing was pressed yet for what they were taken for. Pure. */
import type { SubjectId } from '../protocol/subjects.ts';
import type { WayBack } from '../protocol/types.ts';
import type { Layout } from './layout.ts';
import type { CaseInstant, CaseState, StepRun } from './types.ts';

export interface WayInHand {
  readonly wayBack: WayBack;
  readonly subjects: readonly SubjectId[];
  /** Whether anything that had been done no longer counts. */
  readonly hasVoided: boolean;
}

/** Whether anything of this run happened after that instant. */
const isAfter = ({ startedAt, endedAt, counts, lit }: StepRun, then: CaseInstant): boolean =>
  [startedAt, endedAt, lit?.since ?? null, ...counts].some(
    (at) => at !== null && at.loMs > then.loMs,
  );

/** In the order in which they were taken. */
export function waysInHand(state: CaseState, layout: Layout): readonly WayInHand[] {
  if (state.closed !== null || state.waysBack.length === 0) return [];
  const { subjects, instances, protocol } = layout;
  return state.waysBack.flatMap((taken) => {
    const wayBack = protocol.waysBack.find(({ id }) => id === taken.wayBack);
    if (wayBack === undefined) return [];
    const isCarriedOut = instances.some(({ key, subject, step }) => {
      const run = state.runs[key];
      // What is pressed for the case or a whole portion is not for one unit of it.
      const isShared = step.per === 'case' || step.per === 'mix';
      const isOfIt = taken.subjects.some((each) =>
        isShared ? each === subject : subjects.linked(each, step.per).includes(subject),
      );
      return isOfIt && run !== undefined && isAfter(run, taken.at);
    });
    const hasVoided = state.voided.some(({ press }) => press === taken.press);
    return isCarriedOut ? [] : [{ wayBack, subjects: taken.subjects, hasVoided }];
  });
}
