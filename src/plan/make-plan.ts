/**
 * The whole plan of a case: rounds, mixes, exposures, the appointment on the time axis, what it
 * risks, and how every number came about. Pure; the tables arrive as arguments.
 */
import { layoutOf } from '../engine/layout.ts';
import type { RunPlan } from '../engine/run-plan-types.ts';
import type { Finding } from '../protocol/finding.ts';
import type { Careful } from './careful.ts';
import { checkCase } from './check-light.ts';
import type { RiskOptions } from './drawn-lengths.ts';
import { explainChair } from './explain-plan.ts';
import type { Explanation } from './explanation.ts';
import type { PlanInput } from './grouping.ts';
import { openingState } from './opening-state.ts';
import { projectCase } from './project-case.ts';
import { isDefaultRisk, type Risk, riskOf } from './risk.ts';
import { decidePlan } from './run-plan.ts';
import type { Timeline } from './timeline.ts';
import { heatOf, type UnitHeat } from './tooth-heat.ts';

export interface FullPlanInput extends PlanInput {
  readonly risk?: Partial<RiskOptions>;
}

export interface FullPlan {
  readonly plan: RunPlan;
  readonly timeline: Timeline;
  readonly risk: Risk;
  /** How rounds and mixes were decided, and at what price. */
  readonly careful: Careful;
  /** Light on each unit against published temperature rises, as a caution. */
  readonly heat: readonly UnitHeat[];
  /** What speaks against the case with this protocol, as set-up and the check of its file say it. */
  readonly findings: readonly Finding[];
  readonly explanations: readonly Explanation[];
}

/** Plans a case from its file. */
export function makePlan(input: FullPlanInput): FullPlan {
  const { plan, why, careful, drawn } = decidePlan(input);
  const { spec, protocol } = input;
  const state = openingState({ spec, protocol, plan });
  const projected = drawn?.projected ?? projectCase({ state, nowMs: 0 });
  const { irradianceMwPerCm2 } = spec.light;
  const { subjects } = layoutOf(state);
  const heat = heatOf({ ...projected, protocol, subjects, irradianceMwPerCm2 });
  const known = isDefaultRisk(input.risk) ? drawn?.risk : null;
  const risk = known ?? riskOf(projected, input.risk);
  return {
    plan,
    timeline: projected.timeline,
    risk,
    careful,
    heat: heat.value,
    findings: checkCase(input),
    explanations: [...explainChair(risk), ...why, ...heat.why],
  };
}
