/**
 * The whole plan of a case: rounds, mixes, exposures, the appointment on the time axis, what it
 * risks, and how every number came about. Pure; the tables arrive as arguments.
 */

import { layoutOf } from '../engine/layout.ts';
import type { CaseState, RunPlan } from '../engine/types.ts';
import type { Finding } from '../protocol/finding.ts';
import { mixSubject, unitSubject } from '../protocol/subjects.ts';
import type { Role } from '../protocol/types.ts';
import { activitiesOf } from './activities.ts';
import { checkCase } from './check-light.ts';
import { type Execution, executionOf } from './execution.ts';
import { explainChair } from './explain-plan.ts';
import type { Explanation } from './explanation.ts';
import { openingState } from './opening-state.ts';
import { ownPaces } from './own-paces.ts';
import { type Risk, type RiskOptions, riskOf } from './risk.ts';
import { makeExplainedPlan, type PlanInput } from './run-plan.ts';
import { solveActivities } from './solve-activities.ts';
import { type Timeline, timelineOf } from './timeline.ts';
import { heatOf, type UnitHeat } from './tooth-heat.ts';

export interface FullPlanInput extends PlanInput {
  readonly risk?: Partial<RiskOptions>;
}

export interface FullPlan {
  readonly plan: RunPlan;
  readonly timeline: Timeline;
  readonly risk: Risk;
  /** Light on each unit against published temperature rises, as a caution. */
  readonly heat: readonly UnitHeat[];
  /** What speaks against the case with this protocol, as set-up and the check of its file say it. */
  readonly findings: readonly Finding[];
  readonly explanations: readonly Explanation[];
}

/** The rest of a case on the time axis, as it is expected to go at the paces of its people. */
export function projectCase(o: { readonly state: CaseState; readonly nowMs: number }): {
  readonly execution: Execution;
  readonly timeline: Timeline;
} {
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

/** Plans a case from its file. */
export function makePlan(input: FullPlanInput): FullPlan {
  const { value: plan, why } = makeExplainedPlan(input);
  const { spec, protocol } = input;
  const state = openingState({ spec, protocol, plan });
  const projected = projectCase({ state, nowMs: 0 });
  const { irradianceMwPerCm2 } = spec.light;
  const { subjects } = layoutOf(state);
  const heat = heatOf({ ...projected, protocol, subjects, irradianceMwPerCm2 });
  const risk = riskOf(projected, input.risk);
  return {
    plan,
    timeline: projected.timeline,
    risk,
    heat: heat.value,
    findings: checkCase(input),
    explanations: [...explainChair(risk), ...why, ...heat.why],
  };
}
