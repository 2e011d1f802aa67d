/**
 * The way of the light through all that is still owed in one exposing step: first the tooth that
 * has rested, then the order of the walk, exactly as the bar will offer it. Times in ms.
 */
import { present } from '../base/assert.ts';
import { caseMs } from '../base/units.ts';
import { finiteEarlyMs, finiteHiMs } from '../engine/axis.ts';
import { exposureNeeds, nextPressMs } from '../engine/exposures.ts';
import { type Instance, restMs, surfacePlans } from '../engine/layout.ts';
import { passNow } from '../engine/light-pass.ts';
import type { SurfacePlan } from '../engine/run-plan-types.ts';
import type { Action, Surface } from '../protocol/types.ts';
import type { ActivityDraft } from './activity-draft.ts';

type Expose = Extract<Action, { kind: 'expose' }>;

interface Stop {
  readonly instance: Instance;
  readonly surface: Surface;
  readonly position: number;
  readonly owedMs: number;
  readonly rank: number;
  readonly isLit: boolean;
}

/** Each press that one place still lacks, as the bar will offer them. */
function pressesOwed(plan: SurfacePlan, givenMs: number): readonly number[] {
  const presses: number[] = [];
  for (let at = givenMs; at < plan.setMs; ) {
    const press = nextPressMs(plan, at);
    presses.push(press);
    at += press;
  }
  return presses;
}

/**
 * What the tones of a pass have led through so far, of one position: it is expected to be confirmed, so
 * it is not planned a second time.
 */
function ledMs(
  { context }: ActivityDraft,
  instance: Instance,
  at: { readonly surface: Surface; readonly position: number },
): number {
  const { state, nowMs } = context;
  if (state.lightPass?.step !== instance.step.id) return 0;
  const now = { loMs: caseMs(nowMs), hiMs: caseMs(nowMs) };
  const places = passNow(state.lightPass, now)?.places ?? [];
  return places
    .filter((p) => p.subject === instance.subject && p.surface === at.surface)
    .filter((p) => p.position === at.position && p.state !== 'cut' && p.state !== 'to-come')
    .reduce((ms, p) => ms + (p.state === 'led' ? p.setMs : -p.startsInMs), 0);
}

function stopsOf(draft: ActivityDraft, instance: Instance, action: Expose): Stop[] {
  const { state, layout, nowMs } = draft.context;
  const run = state.runs[instance.key];
  const plans = surfacePlans(layout, instance);
  return exposureNeeds(layout, instance, run).flatMap((need) => {
    const lit = run?.lit;
    const isLit = lit?.surface === need.surface && lit.position === need.position;
    const givenMs =
      isLit && lit ? Math.min(lit.setMs, Math.max(0, nowMs - finiteHiMs(lit.since))) : 0;
    const led = ledMs(draft, instance, need);
    const presses = pressesOwed(need.plan, need.givenLoMs + givenMs + led);
    const at = plans.findIndex((p) => p.surface === need.surface);
    const { position } = need;
    const unit = instance.subjectIndex;
    const [major, middle, minor] =
      action.walk === 'by-surface' ? [at, position, unit] : [unit, at, position];
    const rank = (major * 1000 + middle) * 1000 + minor;
    const place = { instance, surface: need.surface, position: need.position, rank };
    return presses.map((owedMs, n) => ({ ...place, owedMs, isLit: isLit && n === 0 }));
  });
}

/** Time to bring the tip to the next position: what the pace leaves beside the product's light. */
function moveMs(draft: ActivityDraft, instance: Instance, action: Expose): number {
  const count = Math.max(1, action.surfaces.length);
  const lightMs = (action.perSurfaceMs?.value ?? 0) * count;
  return Math.max(0, draft.pace([instance]).medianMs - lightMs) / count;
}

/** The order of all stops when tip and teeth keep their usual pace. */
function walkOf(stops: readonly Stop[], moveMs: number, rest: (i: Instance) => number): Stop[] {
  const left = stops.toSorted((a, b) => Number(b.isLit) - Number(a.isLit) || a.rank - b.rank);
  const restedAtMs = new Map<string, number>();
  const walk: Stop[] = [];
  let nowMs = 0;
  while (left.length > 0) {
    const waitMs = (stop: Stop): number =>
      Math.max(0, (restedAtMs.get(stop.instance.subject) ?? 0) - nowMs);
    const next = left.reduce((best, stop) => (waitMs(stop) < waitMs(best) ? stop : best));
    left.splice(left.indexOf(next), 1);
    nowMs += Math.max(next.isLit ? 0 : moveMs, waitMs(next)) + next.owedMs;
    restedAtMs.set(next.instance.subject, nowMs + rest(next.instance));
    walk.push(next);
  }
  return walk;
}

/** Tasks for the light on a set of units that become ready together. */
export function makeLight(draft: ActivityDraft, group: readonly Instance[], action: Expose): void {
  const first = present(group[0], 'instance');
  const movedMs = moveMs(draft, first, action);
  const { layout } = draft.context;
  const rest = (instance: Instance): number => restMs(layout, instance);
  const stops = group.flatMap((instance) => stopsOf(draft, instance, action));
  const tasks = new Map<Instance, number[]>();
  let before: number | null = null;
  for (const stop of walkOf(stops, movedMs, rest)) {
    const task = draft.add([stop.instance], {
      part: 'light',
      fixedMs: stop.owedMs,
      handsMs: stop.isLit ? 0 : movedMs,
      fixed: 'after',
      surface: stop.surface,
      position: stop.position,
    });
    if (before !== null) draft.chain(before, task);
    before = task;
    const own = tasks.get(stop.instance) ?? [];
    const last = own.at(-1);
    const restedMs = rest(stop.instance);
    if (last !== undefined && restedMs > 0) {
      draft.link({ task: last, edge: 'end' }, { task, edge: 'lit' }, restedMs);
    }
    tasks.set(stop.instance, [...own, task]);
  }
  for (const instance of group) noteLight(draft, instance, tasks.get(instance) ?? []);
}

function noteLight(draft: ActivityDraft, instance: Instance, own: readonly number[]): void {
  const { medianMs } = draft.pace([instance]);
  // Nothing owed by the plan: the people still come by and say so.
  const idle = { part: 'light', fixedMs: 0, handsMs: medianMs, fixed: 'after' } as const;
  const first = own[0] ?? draft.add([instance], idle);
  const last = own.at(-1) ?? first;
  const begun = draft.context.state.runs[instance.key]?.startedAt ?? null;
  const end = { task: last, edge: 'end' } as const;
  draft.made.set(instance.key, {
    entry: begun === null ? first : null,
    last,
    start: begun === null ? { task: first, edge: 'lit' } : { atMs: finiteEarlyMs(begun) },
    end,
    endedBy: 'self',
    ready: { from: end, minMs: 0 },
  });
}
