/** When one edge of a run happened. */
import type { CaseInstant, StepRun } from './types.ts';

/** The instant of one edge of a run, if it has happened. */
export function edgeInstant(run: StepRun | undefined, edge: 'start' | 'end'): CaseInstant | null {
  if (!run || run.status === 'skipped') return null;
  return edge === 'start' ? run.startedAt : run.endedAt;
}
