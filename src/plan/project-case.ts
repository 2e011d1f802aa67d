/** A case on the time axis: its tasks scheduled for the people who are there. Times in ms. */
import type { CaseState } from '../engine/types.ts';
import { mixSubject, unitSubject } from '../protocol/subjects.ts';
import type { Role } from '../protocol/types.ts';
import { activitiesOf } from './activities.ts';
import { type Execution, executionOf } from './execution.ts';
import { ownPaces } from './own-paces.ts';
import { solveActivities } from './solve-activities.ts';
import { type Timeline, timelineOf } from './timeline.ts';

export interface Projected {
  readonly execution: Execution;
  readonly timeline: Timeline;
}

/** The rest of a case on the time axis, as it is expected to go at the paces of its people. */
export function projectCase(o: { readonly state: CaseState; readonly nowMs: number }): Projected {
  const { state, nowMs } = o;
  const { spec, protocol } = state.opened;
  const paces = ownPaces(spec, protocol);
  const activities = activitiesOf({ state, nowMs, paces });
  const roles = new Set<Role>(spec.people.map((p) => p.role));
  const solved = solveActivities(activities, roles);
  const execution = executionOf(activities, solved);
  const mixes = state.plan.mixes.map((units, i) => ({
    id: mixSubject(i + 1),
    units: units.map(unitSubject),
  }));
  return { execution, timeline: timelineOf({ execution, solved, mixes }) };
}
