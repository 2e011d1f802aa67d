/** What the lamp is set to next and why, in one line, before the press. Pure. */
import { layoutOf, surfacePlans } from '../../engine/layout.ts';
import type { SurfacePlan } from '../../engine/run-plan-types.ts';
import type { RunningCase } from '../../runtime/app-state.ts';
import { type LightLineParts, lightLineWords } from '../../words/light-line-words.ts';

/** A time that is left of a press which was stopped early is no programme of the plan. */
function isPlanned(plan: SurfacePlan, setMs: number): boolean {
  return setMs === plan.setMs || (plan.presses ?? []).includes(setMs);
}

function partsOf(plan: SurfacePlan, setMs: number): LightLineParts {
  if (!isPlanned(plan, setMs)) return { kind: 'left', setMs, ofMs: plan.setMs };
  const { doseMs, doseJPerCm2, behindMm, isHeld } = plan.reason ?? {};
  const base = { setMs, ofMs: plan.setMs };
  if (doseMs === undefined || doseJPerCm2 === undefined) return { kind: 'product', ...base };
  const dose = { doseMs, doseJPerCm2, behindMm: behindMm ?? null };
  if (isHeld === true) return { kind: 'held', ...base, ...dose };
  return { kind: plan.decidedBy === 'dose' ? 'dose' : 'product-longer', ...base, ...dose };
}

/** "15 s: 13.6 s for 8 J/cm² behind 0.5 mm, next programme"; null where the light is not next. */
export function lightLine(running: Pick<RunningCase, 'view' | 'log'>): string | null {
  const top = running.view.attention.inHand;
  if (top?.kind !== 'light-on' && top?.kind !== 'light-move') return null;
  const layout = layoutOf(running.log.state);
  const instance = layout.byKey.get(`${top.step}@${top.subjects[0]}`);
  const plans = instance ? surfacePlans(layout, instance) : [];
  const plan = plans.find((each) => each.surface === top.surface);
  return plan === undefined ? null : lightLineWords(partsOf(plan, top.setMs ?? plan.setMs));
}
