/** One run of a step: how it begins, ends and is kept. Called by the files that apply events of work. */
import { present } from '../base/assert.ts';
import type { SubjectId } from '../protocol/subjects.ts';
import { dwellBreaches, windowBreaches } from './breaches.ts';
import { type Instance, instanceKey, type Layout } from './layout.ts';
import type { Breach, CaseInstant, CaseState, InstanceKey, Recorded, StepRun } from './types.ts';

export const FRESH: StepRun = {
  status: 'running',
  startedAt: null,
  endedAt: null,
  counts: [],
  exposures: [],
  lit: null,
  evidence: null,
  option: null,
  reason: null,
  by: null,
};

/** A run that was over before the case began. */
export function doneBefore(at: CaseInstant, evidence: string): StepRun {
  return { ...FRESH, status: 'done', startedAt: at, endedAt: at, evidence };
}

/** A run that light has begun. */
export const litRun = (at: CaseInstant): StepRun => ({ ...FRESH, startedAt: at });

/**
 * Runs that a fold has made itself and that nobody else holds yet, so that it may add to them: a copy
 * for every subject of every event was nine tenths of the time that reading a case took.
 */
export type OwnRuns = Map<CaseState['runs'], Record<InstanceKey, StepRun>>;

/** One event being applied: where it lies on the axis, and the shape of the case. */
export interface EventScene {
  readonly layout: Layout;
  readonly recorded: Recorded;
  readonly at: CaseInstant;
  readonly own: OwnRuns;
}

/** Whatever is still to be read from `state` must be read before. */
export function withRun(
  state: CaseState,
  { own }: EventScene,
  run: readonly [InstanceKey, StepRun],
): CaseState {
  const [key, value] = run;
  const runs = own.get(state.runs) ?? { ...state.runs };
  own.set(runs, runs);
  runs[key] = value;
  return { ...state, runs };
}

export function withBreaches(state: CaseState, found: readonly Breach[]): CaseState {
  return found.length === 0 ? state : { ...state, breaches: [...state.breaches, ...found] };
}

export function instanceAt(scene: EventScene, step: string, subject: SubjectId): Instance {
  const key = instanceKey(step, subject);
  return present(scene.layout.byKey.get(key), key);
}

/** Marks the start of a run and judges the windows that close with it. */
export function begin(
  state: CaseState,
  scene: EventScene,
  instance: Instance,
  more: Partial<StepRun> = {},
): CaseState {
  const run = state.runs[instance.key];
  if (run?.startedAt) return state;
  const { at, recorded } = scene;
  const found = windowBreaches({
    state,
    layout: scene.layout,
    instance,
    edge: 'start',
    at,
    press: recorded.press,
  });
  const started: StepRun = { ...FRESH, ...more, startedAt: at, by: recorded.by };
  return withBreaches(withRun(state, scene, [instance.key, started]), found);
}

/** Marks the end of a run and judges its own bounds and the windows that close with it. */
export function finish(
  state: CaseState,
  scene: EventScene,
  instance: Instance,
  more: Partial<StepRun> = {},
): CaseState {
  const begun = begin(state, scene, instance);
  const { at, recorded, layout } = scene;
  const before = present(begun.runs[instance.key], instance.key);
  const run: StepRun = { ...before, ...more, status: 'done', endedAt: at };
  const found = [
    ...dwellBreaches({ instance, run, press: recorded.press }),
    ...windowBreaches({ state: begun, layout, instance, edge: 'end', at, press: recorded.press }),
  ];
  return withBreaches(withRun(begun, scene, [instance.key, run]), found);
}
