/**
 * A unit that something went wrong with, while the cement that it shares runs: the others go on with
 * that cement, and the late one comes after them with a portion of its own. Pure; times in ms.
 */
import { bareId, type SubjectId, scopeOf } from '../protocol/subjects.ts';
import { edgeInstant } from './edge-instant.ts';
import { givenUpUnits } from './given-up.ts';
import type { Layout } from './layout.ts';
import { isLoading, mixWindows } from './mix-windows.ts';
import type { CaseEvent, CaseState, InstanceKey } from './types.ts';
import { windowMaxMs } from './window-bounds.ts';

interface Scene {
  readonly state: CaseState;
  readonly layout: Layout;
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
    const mix = from.slice(from.indexOf('@') + 1);
    return units.map((unit) => ({ unit, from, mix, target }));
  });
}

type Running = ReturnType<typeof runningFor>[number];

/** Cement is in the unit, and the way back leaves it there: its working time stays that of this mix. */
function isFilled({ state, layout }: Scene, unit: SubjectId, { voided }: Taken): boolean {
  return layout.instances.some(
    ({ key, subject, step }) =>
      isLoading(step) &&
      subject === unit &&
      !voided.includes(key) &&
      edgeInstant(state.runs[key], 'end') !== null,
  );
}

/** Units that must be worked on again before they keep this working time. */
function lateIn(scene: Scene, running: readonly Running[], taken: Taken): Set<SubjectId> {
  const { layout } = scene;
  const { voided } = taken;
  const late = voided.flatMap((key) => {
    const instance = layout.byKey.get(key);
    if (!instance || !['unit', 'tooth'].includes(scopeOf(instance.subject))) return [];
    const units = layout.subjects.linked(instance.subject, 'unit');
    return running.filter((r) => units.includes(r.unit) && instance.stepIndex < r.target.stepIndex);
  });
  return new Set(late.map(({ unit }) => unit).filter((unit) => !isFilled(scene, unit, taken)));
}

/**
 * The late units of one mix get a portion of their own: the others go on with the cement that is out, and what is
 * out when all others are through has aged by the time the last is ready. A mix that a way back throws away
 * is started again anyhow.
 */
function partedFrom(
  { plan }: CaseState,
  of: readonly Running[],
  o: Taken & { late: Set<SubjectId> },
): CaseEvent | null {
  const late = new Set(of.filter((r) => o.late.has(r.unit)).map((r) => bareId(r.unit)));
  const mix = plan.mixes.find((units) => units.some((unit) => late.has(unit))) ?? [];
  const isAlone = of.every((r) => o.late.has(r.unit));
  const isStartedAgain = mix.length === late.size || of.some(({ from }) => o.voided.includes(from));
  if (late.size === 0 || (isAlone && isStartedAgain)) return null;
  return { type: 'mix-added', units: [...late], reason: o.reason };
}

/**
 * Parts the late units from the others of their mix. Nothing changes where a way back throws a whole mix
 * away or starts it again for all of its units, where cement stays in the unit, or where nothing of the
 * case has a mix.
 */
export function partLate(scene: Scene, taken: Taken, isWholeMix: boolean): Parted {
  const none = { voided: taken.voided, events: [] };
  if (isWholeMix || scene.state.plan.mixes.length === 0) return none;
  const running = runningFor(scene);
  const late = lateIn(scene, running, taken);
  const mixes = [...new Set(running.map(({ mix }) => mix))];
  const parted = mixes.flatMap((mix) => {
    const of = running.filter((r) => r.mix === mix);
    const event = partedFrom(scene.state, of, { ...taken, late });
    return event === null ? [] : [{ mix, event }];
  });
  const kept = new Set(parted.map(({ mix }) => mix));
  const isKept = (key: InstanceKey) => kept.has(key.slice(key.indexOf('@') + 1));
  return {
    voided: taken.voided.filter((key) => !isKept(key)),
    events: parted.map(({ event }) => event),
  };
}
