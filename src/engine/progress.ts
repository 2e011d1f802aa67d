/**
 * How far each tooth is: steps done of those that apply to it and to the unit it carries, and the
 * light each surface was given. Times in ms.
 */
import { present } from '../base/assert.ts';
import { bareId } from '../protocol/subjects.ts';
import type { Surface } from '../protocol/types.ts';
import { credited } from './exposures.ts';
import { type Instance, type Layout, surfacePlans } from './layout.ts';
import { leadNow } from './light-pass.ts';
import type { CaseNow } from './offer-draft.ts';
import type { SubjectState, SurfaceProgress, ToothProgress } from './progress-types.ts';
import type { Offer } from './view-types.ts';

/** What is the same for a tooth for as long as the plan is. */
interface ToothPlace {
  readonly tooth: string;
  readonly unit: string;
  /** The steps on the tooth and on the unit it carries. */
  readonly own: readonly Instance[];
  /** Where its light is counted. */
  readonly exposing: Instance | undefined;
}

const places = new WeakMap<Layout, readonly ToothPlace[]>();

function placesOf(layout: Layout): readonly ToothPlace[] {
  const hit = places.get(layout);
  if (hit) return hit;
  const byStep = mainExposeStep(layout);
  const made = layout.subjects.order.tooth.map((tooth): ToothPlace => {
    const unit = present(layout.subjects.linked(tooth, 'unit')[0], `unit of ${tooth}`);
    const own = layout.instances.filter((i) => i.subject === tooth || i.subject === unit);
    const exposing = byStep
      ? (layout.byKey.get(`${byStep}@${tooth}`) ?? layout.byKey.get(`${byStep}@${unit}`))
      : undefined;
    return { tooth, unit, own, exposing };
  });
  places.set(layout, made);
  return made;
}

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
  const { lightPass } = scene.state;
  const lead = lightPass?.step === instance.step.id ? leadNow(lightPass, scene.now) : null;
  const isLed = lead?.isLit === true && lead.place.subject === instance.subject;
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
    const isLit =
      run?.lit?.surface === plan.surface || (isLed && lead.place.surface === plan.surface);
    const isOver = run?.status === 'skipped' || (givenMs > 0 && run?.lit == null);
    return {
      surface: plan.surface,
      givenMs,
      setMs,
      state: surfaceState({ givenMs, setMs, isLit, isOver }),
    };
  });
}

/** Where the steps of a tooth stand, read once. */
interface Stand {
  done: number;
  total: number;
  isLeft: boolean;
  isSkipped: boolean;
  running: Instance | null;
  open: Instance | null;
}

function standOf({ statuses }: CaseNow, own: readonly Instance[]): Stand {
  const stand: Stand = {
    done: 0,
    total: 0,
    isLeft: false,
    isSkipped: false,
    running: null,
    open: null,
  };
  for (const instance of own) {
    const status = statuses.of(instance);
    if (status === 'not-applicable') continue;
    stand.total += 1;
    if (status === 'done' || status === 'skipped') stand.done += 1;
    if (status === 'open' || status === 'blocked') stand.isLeft = true;
    if (status === 'running') stand.running ??= instance;
    if (status === 'open') stand.open ??= instance;
    if (status === 'skipped') stand.isSkipped = true;
  }
  return stand;
}

function stateOf(stand: Stand, isActive: boolean): SubjectState {
  if (stand.running !== null) return 'running';
  if (isActive) return 'active';
  if (stand.isLeft) return 'waiting';
  return stand.isSkipped ? 'skipped' : 'done';
}

/** A breach on this tooth stays visible on it: what is sure outranks what may be, and over outranks short. */
function withBreach(
  scene: CaseNow,
  subjects: readonly string[],
  state: SubjectState,
): SubjectState {
  if (state !== 'done') return state;
  const own = scene.state.breaches.filter((b) => subjects.includes(b.subject));
  const sure = own.filter((b) => b.perhaps !== true);
  const kinds = (sure.length > 0 ? sure : own).map((b) => b.kind);
  if (kinds.some((k) => k === 'over' || k === 'late')) return 'over';
  return kinds.some((k) => k === 'short' || k === 'exposure-short') ? 'short' : state;
}

/** The step furthest along the chain that is done and says where it leaves what it was done to. */
function reachedOf({ statuses }: CaseNow, own: readonly Instance[]): string | null {
  let last: Instance | null = null;
  for (const instance of own) {
    if (instance.step.words?.leaves === undefined || statuses.of(instance) !== 'done') continue;
    if (last === null || instance.stepIndex >= last.stepIndex) last = instance;
  }
  return last?.step.id ?? null;
}

function toothProgress(scene: CaseNow, place: ToothPlace, top: Offer | null): ToothProgress {
  const { tooth, unit, own, exposing } = place;
  const stand = standOf(scene, own);
  const isActive = top?.subjects.some((s) => s === tooth || s === unit) ?? false;
  const stepOfTop = isActive && top ? top.step : null;
  return {
    tooth: bareId(tooth),
    unit: bareId(unit),
    done: stand.done,
    total: stand.total,
    state: withBreach(scene, [tooth, unit], stateOf(stand, isActive)),
    step: stepOfTop ?? stand.running?.step.id ?? stand.open?.step.id ?? null,
    reached: reachedOf(scene, own),
    surfaces: exposing ? surfacesOf(scene, exposing) : [],
  };
}

/** Progress of every tooth of the case, in its order. `top` is what the bar offers. */
export function progressOf(scene: CaseNow, top: Offer | null): ToothProgress[] {
  return placesOf(scene.layout).map((place) => toothProgress(scene, place, top));
}
