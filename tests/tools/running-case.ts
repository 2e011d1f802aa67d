/** A running case as the screens are given it, from a chair that a test drives. */
import type { CaseLog } from '../../src/engine/log.ts';
import type { Stamp } from '../../src/engine/types.ts';
import type { View } from '../../src/engine/view-types.ts';
import type { RunningCase } from '../../src/runtime/app-state.ts';

/** What every chair of the tests has. */
interface AtChair {
  readonly log: CaseLog;
  readonly view: View;
  readonly stamp: Stamp;
}

/** Nothing is on its way to the disk, and nothing was refused, unless `more` says so. */
export function runningOf(chair: AtChair, more: Partial<RunningCase> = {}): RunningCase {
  return {
    caseId: 'case-1',
    log: chair.log,
    view: chair.view,
    now: chair.stamp,
    pending: 0,
    undo: null,
    refusal: null,
    speed: 1,
    by: 'dentist-a',
    isViewOnly: false,
    isStale: false,
    typed: null,
    answers: {},
    unsaved: 0,
    ...more,
  };
}
