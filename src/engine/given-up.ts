/**
 * Units that were set aside: the last steps of such a unit were skipped with one press. Nothing of
 * it is asked for again, although a way back or a choice may take back what was done to the others.
 */

import type { SubjectId } from '../protocol/subjects.ts';
import type { Instance, Layout } from './layout.ts';
import type { CaseState, StepRun } from './types.ts';

const isSamePress = (a: StepRun, b: StepRun | undefined): boolean =>
  b?.status === 'skipped' && b.reason === a.reason && b.endedAt?.loMs === a.endedAt?.loMs;

/** One skip at the end may be a step that was not wanted; more with one press is the unit itself. */
const STEPS_MIN = 2;

function isSetAside(state: CaseState, own: readonly Instance[]): boolean {
  const runs = own.map((i) => state.runs[i.key]);
  const last = runs.at(-1);
  if (last?.status !== 'skipped') return false;
  const first = runs.findIndex((run) => isSamePress(last, run));
  const rest = runs.slice(first);
  return rest.length >= STEPS_MIN && rest.every((run) => isSamePress(last, run));
}

/** The units of a case that were set aside. */
export function givenUpUnits(state: CaseState, layout: Layout): ReadonlySet<SubjectId> {
  const isAsked = ({ step }: Instance) => !step.optional && (step.onlyIf?.length ?? 0) === 0;
  const units = layout.subjects.order.unit.filter((unit) =>
    isSetAside(
      state,
      layout.instances.filter((i) => i.subject === unit && isAsked(i)),
    ),
  );
  return new Set(units);
}

/** True for a subject, not the case, that belongs to units that were set aside and to no other. */
export function isGivenUp(
  givenUp: ReadonlySet<SubjectId>,
  layout: Layout,
  subject: SubjectId,
): boolean {
  if (subject === 'case' || givenUp.size === 0) return false;
  const units = layout.subjects.linked(subject, 'unit');
  return units.length > 0 && units.every((unit) => givenUp.has(unit));
}
