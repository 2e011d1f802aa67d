/**
 * How far each tooth is: steps done of those that apply to it and to the unit it carries, and the
 * light each surface was given. Times in ms.
 */
import { present } from '../base/assert.ts';
import { bareId } from '../protocol/subjects.ts';
import type { Surface } from '../protocol/types.ts';
import { credited } from './exposures.ts';
import { type Instance, type Layout, surfacePlans } from './layout.ts';
import type { CaseNow } from './offer-draft.ts';
import type { SubjectState, SurfaceProgress, ToothProgress } from './progress-types.ts';
import type { Offer } from './view-types.ts';

/** The step whose light counts as "every surface": the exposing step with most surfaces. */
function mainExposeStep(layout: Layout): string | null {
  const steps = layout.protocol.steps.flatMap((s) =>
    s.action.kind === 'expose' ? [{ id: s.id, n: s.action.surfaces.length }] : [],
  );
  const best = [...steps].sort((a, b) => b.n - a.n)[0];
  return best?.id ?? null;
}

function surfaceState(o: { givenMs: number; setMs: number; isLit: boolean; isOver: boolean }) {
  if (o.isLit) return 'running';
  if (o.givenMs >= o.setMs) return 'done';
  return o.isOver ? 'short' : 'waiting';
}

function surfacesOf(scene: CaseNow, instance: Instance): SurfaceProgress[] {
  const run = scene.state.runs[instance.key];
  const given = (surface: Surface) => {
    const past = (run?.exposures ?? [])
      .filter((e) => e.surface === surface)
      .reduce((ms, e) => ms + e.given.loMs, 0);
    const lit = run?.lit?.surface === surface ? run.lit : null;
    return past + (lit ? credited(lit.since, scene.now, lit.setMs).loMs : 0);
  };
  return surfacePlans(scene.layout, instance).map((plan) => {
    const setMs = plan.setMs * plan.positions;
    const givenMs = given(plan.surface);
    const isLit = run?.lit?.surface === plan.surface;
    const isOver = run?.status === 'skipped' || (givenMs > 0 && run?.lit == null);
    return {
      surface: plan.surface,
      givenMs,
      setMs,
      state: surfaceState({ givenMs, setMs, isLit, isOver }),
    };
  });
}

function stateOf(scene: CaseNow, instances: readonly Instance[], isActive: boolean): SubjectState {
  const statuses = instances.map((i) => scene.statuses.of(i));
  if (statuses.includes('running')) return 'running';
  if (isActive) return 'active';
  const left = statuses.some((s) => s === 'open' || s === 'blocked');
  if (left) return statuses.includes('done') ? 'waiting' : 'waiting';
  return statuses.includes('skipped') ? 'skipped' : 'done';
}

/** A breach on this tooth stays visible on it: over outranks short. */
function withBreach(
  scene: CaseNow,
  subjects: readonly string[],
  state: SubjectState,
): SubjectState {
  if (state !== 'done') return state;
  const kinds = scene.state.breaches.filter((b) => subjects.includes(b.subject)).map((b) => b.kind);
  if (kinds.some((k) => k === 'over' || k === 'late')) return 'over';
  return kinds.some((k) => k === 'short' || k === 'exposure-short') ? 'short' : state;
}

/** The step furthest along the chain that is done and says where it leaves what it was done to. */
function reachedOf(scene: CaseNow, own: readonly Instance[]): string | null {
  const done = own.filter(
    (i) => i.step.words?.leaves !== undefined && scene.statuses.of(i) === 'done',
  );
  const last = done.toSorted((a, b) => a.stepIndex - b.stepIndex).at(-1);
  return last?.step.id ?? null;
}

function toothProgress(
  scene: CaseNow,
  tooth: string,
  top: Offer | null,
  byStep: string | null,
): ToothProgress {
  const { layout, statuses, state } = scene;
  const unit = present(layout.subjects.linked(tooth, 'unit')[0], `unit of ${tooth}`);
  const own = layout.instances.filter((i) => i.subject === tooth || i.subject === unit);
  const applicable = own.filter((i) => statuses.of(i) !== 'not-applicable');
  const over = applicable.filter((i) => ['done', 'skipped'].includes(statuses.of(i)));
  const running = applicable.find((i) => statuses.of(i) === 'running');
  const open = applicable.find((i) => statuses.of(i) === 'open');
  const isActive = top?.subjects.some((s) => s === tooth || s === unit) ?? false;
  const exposing = byStep
    ? (layout.byKey.get(`${byStep}@${tooth}`) ?? layout.byKey.get(`${byStep}@${unit}`))
    : undefined;
  const stepOfTop = isActive && top ? top.step : null;
  return {
    tooth: bareId(tooth),
    unit: bareId(unit),
    done: over.length,
    total: applicable.length,
    state: withBreach({ ...scene, state }, [tooth, unit], stateOf(scene, applicable, isActive)),
    step: stepOfTop ?? running?.step.id ?? open?.step.id ?? null,
    reached: reachedOf(scene, own),
    surfaces: exposing ? surfacesOf(scene, exposing) : [],
  };
}

/** Progress of every tooth of the case, in its order. `top` is what the bar offers. */
export function progressOf(scene: CaseNow, top: Offer | null): ToothProgress[] {
  const byStep = mainExposeStep(scene.layout);
  return scene.layout.subjects.order.tooth.map((t) => toothProgress(scene, t, top, byStep));
}
