/**
 * What work on a subject does to the state: begin, finish, coats, passes, light, choices, skips and
 * runs that no longer count. Called by `apply.ts` only.
 */
import { assert, present, unreachable } from '../base/assert.ts';
import type { SubjectId } from '../protocol/subjects.ts';
import { dwellBreaches, windowBreaches } from './breaches.ts';
import { credited, exposureNeeds } from './exposures.ts';
import { givenUpUnits, isGivenUp } from './given-up.ts';
import { type Instance, instanceKey, type Layout } from './layout.ts';
import type {
  Breach,
  CaseEvent,
  CaseInstant,
  CaseState,
  InstanceKey,
  Recorded,
  StepRun,
} from './types.ts';

const FRESH: StepRun = {
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
function withRun(
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

function withBreaches(state: CaseState, found: readonly Breach[]): CaseState {
  return found.length === 0 ? state : { ...state, breaches: [...state.breaches, ...found] };
}

function instanceAt(scene: EventScene, step: string, subject: SubjectId): Instance {
  const key = instanceKey(step, subject);
  return present(scene.layout.byKey.get(key), key);
}

/** Marks the start of a run and judges the windows that close with it. */
function begin(state: CaseState, scene: EventScene, instance: Instance): CaseState {
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
  const started: StepRun = { ...FRESH, startedAt: at, by: recorded.by };
  return withBreaches(withRun(state, scene, [instance.key, started]), found);
}

/** Marks the end of a run and judges its own bounds and the windows that close with it. */
function finish(
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

function eachInstance(
  state: CaseState,
  scene: EventScene,
  event: { readonly step: string; readonly subjects: readonly SubjectId[] },
  change: (state: CaseState, instance: Instance) => CaseState,
): CaseState {
  return event.subjects.reduce(
    (s, subject) => change(s, instanceAt(scene, event.step, subject)),
    state,
  );
}

function coat(state: CaseState, scene: EventScene, instance: Instance): CaseState {
  const { action } = instance.step;
  assert(action.kind === 'coats', 'coats are applied in a coats step');
  const begun = begin(state, scene, instance);
  const run = present(begun.runs[instance.key], instance.key);
  const counts = [...run.counts, scene.at];
  const next = withRun(begun, scene, [instance.key, { ...run, counts }]);
  return counts.length >= action.count.value ? finish(next, scene, instance) : next;
}

function pass(state: CaseState, scene: EventScene, instance: Instance): CaseState {
  const { action } = instance.step;
  assert(action.kind === 'tally', 'passes are made in a tally step');
  const begun = begin(state, scene, instance);
  const run = present(begun.runs[instance.key], instance.key);
  const counts = [...run.counts, scene.at];
  const next = withRun(begun, scene, [instance.key, { ...run, counts }]);
  if (counts.length <= action.passesMax.value) return next;
  return withBreaches(next, [
    {
      kind: 'passes-over',
      of: instance.step.id,
      what: 'step',
      subject: instance.subject,
      by: 1,
      at: scene.at,
      press: scene.recorded.press,
    },
  ]);
}

type LightOn = Extract<CaseEvent, { type: 'exposure-started' }>;

function lightOn(state: CaseState, scene: EventScene, event: LightOn): CaseState {
  const instance = instanceAt(scene, event.step, event.subject);
  const begun = begin(state, scene, instance);
  const run = present(begun.runs[instance.key], instance.key);
  const { surface, position, setMs } = event;
  const lit = { surface, position, setMs, since: scene.at };
  return withRun(begun, scene, [instance.key, { ...run, status: 'running', lit }]);
}

function lightOff(state: CaseState, scene: EventScene, instance: Instance): CaseState {
  const run = state.runs[instance.key];
  if (!run?.lit) return state;
  const { surface, position, setMs, since } = run.lit;
  const given = credited(since, scene.at, setMs);
  const dark: StepRun = {
    ...run,
    lit: null,
    exposures: [...run.exposures, { surface, position, setMs, given }],
  };
  const lightEnds = { ...state.lightEnds, [instance.key]: scene.at };
  const next = { ...withRun(state, scene, [instance.key, dark]), lightEnds };
  const owed = exposureNeeds(scene.layout, instance, dark).some((n) => n.owedMs > 0);
  return owed ? next : finish(next, scene, instance);
}

/** A skipped step keeps what was done; an exposure that is cut short is a breach. */
function skip(state: CaseState, scene: EventScene, instance: Instance, reason: string): CaseState {
  const dark = lightOff(state, scene, instance);
  const run = dark.runs[instance.key] ?? FRESH;
  const { recorded, at } = scene;
  const skipped: StepRun = { ...run, status: 'skipped', endedAt: at, reason, by: recorded.by };
  const next = withRun(dark, scene, [instance.key, skipped]);
  if (instance.step.action.kind !== 'expose') return next;
  const short = exposureNeeds(scene.layout, instance, run).reduce((ms, n) => ms + n.owedMs, 0);
  if (short === 0) return next;
  const { subject, step } = instance;
  return withBreaches(next, [
    {
      kind: 'exposure-short',
      of: step.id,
      what: 'step',
      subject,
      by: short,
      at,
      press: recorded.press,
    },
  ]);
}

/** Takes runs out of the state and keeps them aside with the reason. */
export function voidRuns(
  state: CaseState,
  scene: EventScene,
  keys: readonly InstanceKey[],
  reason: string,
): CaseState {
  const runs = { ...state.runs };
  const voided = [...state.voided];
  for (const key of keys) {
    const run = runs[key];
    if (!run) continue;
    voided.push({ key, run, press: scene.recorded.press, reason });
    delete runs[key];
  }
  return { ...state, runs, voided };
}

type Chosen = Extract<CaseEvent, { type: 'option-chosen' }>;

/**
 * A choice that loops voids the steps it names for all that belongs to the subject, but for a unit
 * that was set aside.
 */
function choose(state: CaseState, scene: EventScene, event: Chosen): CaseState {
  const chosen = eachInstance(state, scene, event, (s, i) =>
    finish(s, scene, i, { option: event.option, evidence: event.evidence ?? null }),
  );
  const step = present(
    scene.layout.protocol.steps.find((s) => s.id === event.step),
    event.step,
  );
  if (step.action.kind !== 'choose') return chosen;
  const option = step.action.options.find((o) => o.id === event.option);
  const redo = new Set(option?.redo ?? []);
  if (redo.size === 0) return chosen;
  const givenUp = givenUpUnits(chosen, scene.layout);
  const keys = scene.layout.instances
    .filter((i) => redo.has(i.step.id) && !isGivenUp(givenUp, scene.layout, i.subject))
    .filter((i) =>
      event.subjects.some((s) => scene.layout.subjects.linked(s, i.step.per).includes(i.subject)),
    )
    .map((i) => i.key);
  return voidRuns(chosen, scene, keys, option?.label ?? event.option);
}

/** What happens to a step on a subject, as opposed to the clocks, the log or the people. */
type WorkEvent = Extract<
  CaseEvent,
  {
    type:
      | 'step-confirmed'
      | 'step-started'
      | 'step-ended'
      | 'coat-applied'
      | 'pass-made'
      | 'option-chosen'
      | 'exposure-started'
      | 'exposure-stopped'
      | 'step-skipped';
  }
>;

/** Applies an event of work. */
export function applyWork(state: CaseState, scene: EventScene, event: WorkEvent): CaseState {
  switch (event.type) {
    case 'step-confirmed': {
      const evidence = event.evidence ?? null;
      return eachInstance(state, scene, event, (s, i) => finish(s, scene, i, { evidence }));
    }
    case 'step-started':
      return eachInstance(state, scene, event, (s, i) => begin(s, scene, i));
    case 'step-ended':
      return eachInstance(state, scene, event, (s, i) => finish(s, scene, i));
    case 'coat-applied':
      return eachInstance(state, scene, event, (s, i) => coat(s, scene, i));
    case 'pass-made':
      return pass(state, scene, instanceAt(scene, event.step, event.subject));
    case 'option-chosen':
      return choose(state, scene, event);
    case 'exposure-started':
      return lightOn(state, scene, event);
    case 'exposure-stopped':
      return lightOff(state, scene, instanceAt(scene, event.step, event.subject));
    case 'step-skipped':
      return eachInstance(state, scene, event, (s, i) => skip(s, scene, i, event.reason));
    default:
      return unreachable(event);
  }
}
