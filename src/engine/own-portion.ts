/**
 * A unit that something went wrong with, while the cement that it shares runs: the others go on with
 * that cement, and the late one comes after them with a portion of its own. Pure; times in ms.
 */
import { paceOf } from '../protocol/pace.ts';
import { bareId, type SubjectId, scopeOf } from '../protocol/subjects.ts';
import { elapsed } from './axis.ts';
import { edgeInstant } from './edge-instant.ts';
import { givenUpUnits } from './given-up.ts';
import { type Instance, type Layout, surfacePlans } from './layout.ts';
import { mixWindows } from './mix-windows.ts';
import type { CaseEvent, CaseInstant, CaseState, InstanceKey } from './types.ts';
import { windowMaxMs } from './window-bounds.ts';

interface Scene {
  readonly state: CaseState;
  readonly layout: Layout;
  readonly now: CaseInstant;
}

interface Taken {
  readonly voided: readonly InstanceKey[];
  readonly reason: string;
}

/** What becomes of a way back once the others are thought of. */
interface Parted {
  /** Without what is the mix's own: it is still used for the others. */
  readonly voided: readonly InstanceKey[];
  readonly events: readonly CaseEvent[];
}

/** The working times that run, each with the unit that still has to keep it. */
function runningFor({ state, layout }: Scene) {
  const givenUp = givenUpUnits(state, layout);
  return mixWindows(layout).flatMap((pair) => {
    const { window, from, to } = pair;
    const since = edgeInstant(state.runs[from], window.from.edge);
    const isOpen = since !== null && edgeInstant(state.runs[to], window.to.edge) === null;
    const maxMs = windowMaxMs(state, pair);
    const target = layout.byKey.get(to);
    if (!isOpen || maxMs === undefined || target === undefined) return [];
    const units = layout.subjects.linked(target.subject, 'unit').filter((u) => !givenUp.has(u));
    return units.map((unit) => ({
      unit,
      from,
      mix: from.slice(from.indexOf('@') + 1),
      maxMs,
      since,
      target,
    }));
  });
}

type Running = ReturnType<typeof runningFor>[number];

/** How long one step takes on one subject on a slow day. */
function slowMs(layout: Layout, instance: Instance): number {
  const { action } = instance.step;
  const handsMs = paceOf(instance.step).p90Ms;
  if (action.kind === 'dwell') return handsMs + action.targetMs.value;
  if (action.kind !== 'expose') return handsMs;
  return surfacePlans(layout, instance).reduce((ms, s) => ms + s.setMs * s.positions, handsMs);
}

/** What is still to be done to these units until the last of them has kept its working time. */
function leftMs(scene: Scene, units: ReadonlySet<SubjectId>, o: Taken & { last: number }): number {
  const { state, layout } = scene;
  const isVoided = new Set(o.voided);
  return layout.instances
    .filter(({ subject, stepIndex, step, key }) => {
      if (subject === 'case' || step.optional || stepIndex > o.last) return false;
      if ((step.onlyIf?.length ?? 0) > 0) return false;
      const isOwn = layout.subjects.linked(subject, 'unit').some((u) => units.has(u));
      return isOwn && (isVoided.has(key) || edgeInstant(state.runs[key], 'end') === null);
    })
    .reduce((ms, instance) => ms + slowMs(layout, instance), 0);
}

/** A portion that the way back throws away is not waited with. */
const isThrownAway = ([first]: readonly Running[], { voided }: Taken): boolean =>
  first !== undefined && voided.includes(first.from);

/** Whether all of them would keep the working time, one thing after the other on a slow day. */
function canWait(scene: Scene, running: readonly Running[], taken: Taken): boolean {
  const units = new Set(running.map(({ unit }) => unit));
  const last = Math.max(...running.map(({ target }) => target.stepIndex));
  const room = running.map(({ maxMs, since }) => maxMs - elapsed(since, scene.now).hiMs);
  return leftMs(scene, units, { ...taken, last }) <= Math.min(...room);
}

/** Units that must be worked on again before they keep this working time. */
function lateIn({ layout }: Scene, running: readonly Running[], { voided }: Taken): Set<SubjectId> {
  const late = voided.flatMap((key) => {
    const instance = layout.byKey.get(key);
    if (!instance || !['unit', 'tooth'].includes(scopeOf(instance.subject))) return [];
    const units = layout.subjects.linked(instance.subject, 'unit');
    return running.filter((r) => units.includes(r.unit) && instance.stepIndex < r.target.stepIndex);
  });
  return new Set(late.map(({ unit }) => unit));
}

/** The late ones of one mix last, so that no step that goes by the order waits for them. */
function behind({ state }: Scene, late: ReadonlySet<string>, others: ReadonlySet<string>) {
  const { order, mixes } = state.plan;
  const mix = mixes.find((m) => m.some((unit) => others.has(unit))) ?? [];
  const slots = order.filter((unit) => mix.includes(unit));
  const moved = [...slots.filter((u) => !late.has(u)), ...slots.filter((u) => late.has(u))];
  const next = moved[Symbol.iterator]();
  return order.map((unit) => (mix.includes(unit) ? (next.next().value ?? unit) : unit));
}

/** What the plan does about the late units of one mix. */
function partedFrom(scene: Scene, of: readonly Running[], o: Taken & { late: Set<SubjectId> }) {
  const late = new Set(of.filter((r) => o.late.has(r.unit)).map((r) => bareId(r.unit)));
  const others = new Set(of.filter((r) => !o.late.has(r.unit)).map((r) => bareId(r.unit)));
  if (late.size === 0 || others.size === 0) return null;
  if (isThrownAway(of, o) || !canWait(scene, of, o)) {
    return { type: 'mix-added', units: [...late], reason: o.reason } as const;
  }
  const plan = { ...scene.state.plan, order: behind(scene, late, others) };
  return { type: 'plan-changed', plan, reason: o.reason } as const;
}

/**
 * Parts the late units from the others of their mix. Nothing changes where a way back throws a whole
 * mix away, where nobody else waits for it, or where nothing of the case has a mix.
 */
export function partLate(scene: Scene, taken: Taken, isWholeMix: boolean): Parted {
  const none = { voided: taken.voided, events: [] };
  if (isWholeMix || scene.state.plan.mixes.length === 0) return none;
  const running = runningFor(scene);
  const late = lateIn(scene, running, taken);
  const mixes = [...new Set(running.map(({ mix }) => mix))];
  const parted = mixes.flatMap((mix) => {
    const of = running.filter((r) => r.mix === mix);
    const event = partedFrom(scene, of, { ...taken, late });
    return event === null ? [] : [{ mix, event }];
  });
  const kept = new Set(parted.map(({ mix }) => mix));
  const isKept = (key: InstanceKey) => kept.has(key.slice(key.indexOf('@') + 1));
  return {
    voided: taken.voided.filter((key) => !isKept(key)),
    events: parted.map(({ event }) => event),
  };
}
