/** How the order of seating is changed. Pure. */
import type { RunPlan } from '../../engine/run-plan-types.ts';

/** Puts a unit one place earlier, inside its mix and across mixes alike. */
export function moveEarlier(plan: RunPlan, unit: string): RunPlan {
  const at = plan.order.indexOf(unit);
  const before = plan.order[at - 1];
  if (before === undefined) return plan;
  const swap = (id: string): string => {
    if (id === unit) return before;
    return id === before ? unit : id;
  };
  return { ...plan, order: plan.order.map(swap), mixes: plan.mixes.map((mix) => mix.map(swap)) };
}
