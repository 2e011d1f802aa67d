/**
 * What work on a subject does to the state: begin, finish, coats, passes, light, choices, skips and
 * runs that no longer count. Called by `apply.ts` only.
 */
import { assert, present, unreachable } from '../base/assert.ts';
import type { SubjectId } from '../protocol/subjects.ts';
import { beginPass, confirmPass, passWithout, withoutPass } from './apply-pass.ts';
import {
  begin,
  type EventScene,
  FRESH,
  finish,
  instanceAt,
  withBreaches,
  withRun,
} from './apply-run.ts';
import { elapsed, spreadOver } from './axis.ts';
import { gapBreaches } from './breaches.ts';
import { credited, exposureNeeds } from './exposures.ts';
import { givenUpUnits, isGivenUp } from './given-up.ts';
import { sinceKnown } from './implied.ts';
import type { Instance } from './layout.ts';
import { stopped } from './light-pass.ts';
import type { SweepMs } from './pressing-types.ts';
import { restBreaches } from './rest-kept.ts';
import { sweptAt } from './sweep.ts';
import type { CaseEvent, CaseInstant, CaseState, InstanceKey, StepRun } from './types.ts';

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

/** Each subject of a sweep has an instant of its own: between the shortest and the longest it may have taken. */
function eachSwept(
  state: CaseState,
  scene: EventScene,
  event: {
    readonly step: string;
    readonly subjects: readonly SubjectId[];
    readonly sweep?: SweepMs;
  },
  change: (
    state: CaseState,
    scene: EventScene,
    instance: Instance,
    more?: Partial<StepRun>,
  ) => CaseState,
): CaseState {
  const { sweep } = event;
  if (sweep === undefined) return eachInstance(state, scene, event, (s, i) => change(s, scene, i));
  return event.subjects.reduce((s, subject, index) => {
    const at = sweptAt(scene.at, sweep, index);
    return change(s, { ...scene, at }, instanceAt(scene, event.step, subject), {
      pressed: 'swept',
    });
  }, state);
}

/** Done at some time between the last known instant before it and the press that says so. */
function confirmImplied(
  state: CaseState,
  scene: EventScene,
  event: Extract<CaseEvent, { type: 'step-confirmed' }>,
): CaseState {
  return eachInstance(state, scene, event, (s, instance) => {
    const since = sinceKnown({ state: s, layout: scene.layout, now: scene.at }, instance);
    const at = spreadOver(scene.at, { fromMs: -since.hiMs, toMs: 0 });
    return finish(s, { ...scene, at }, instance, { pressed: 'implied' });
  });
}

/**
 * Confirmed together at one instant. The act of each line may have been earlier than the press: at any
 * time since what it waited for.
 */
function onList(state: CaseState, scene: EventScene, instance: Instance): EventScene {
  const since = sinceKnown({ state, layout: scene.layout, now: scene.at }, instance);
  return { ...scene, at: spreadOver(scene.at, { fromMs: -since.hiMs, toMs: 0 }) };
}

/** A coat that was not pressed lies between the one before it and the press of the last. */
function betweenCoats(state: CaseState, scene: EventScene, { key }: Instance): EventScene {
  const before = state.runs[key]?.counts.at(-1);
  if (before === undefined) return scene;
  const fromMs = -elapsed(before, scene.at).hiMs;
  return { ...scene, at: spreadOver(scene.at, { fromMs, toMs: 0 }) };
}

function coat(state: CaseState, scene: EventScene, instance: Instance): CaseState {
  const { action } = instance.step;
  assert(action.kind === 'coats', 'coats are applied in a coats step');
  const begun = begin(state, scene, instance);
  const run = present(begun.runs[instance.key], instance.key);
  const { at, recorded } = scene;
  const counts = [...run.counts, at];
  const before = run.counts.at(-1);
  const found = gapBreaches(begun, { instance, before, at, press: recorded.press });
  const coated = withRun(begun, scene, [instance.key, { ...run, counts }]);
  const next = withBreaches(coated, found);
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
  const { layout, at, recorded } = scene;
  const lit = { surface, position, setMs, since: at };
  const ends = Object.entries(state.lightEnds);
  const found = restBreaches({ state: begun, layout, instance, at, press: recorded.press, ends });
  const next = withRun(begun, scene, [instance.key, { ...run, status: 'running', lit }]);
  return withBreaches(next, found);
}

/**
 * The light is off at the press that says so, or was off already once its set time was over: a lamp that
 * is set switches itself off.
 */
function darkFrom(at: CaseInstant, { since, setMs }: NonNullable<StepRun['lit']>): CaseInstant {
  const overMs = Math.max(0, elapsed(since, at).hiMs - setMs);
  return overMs === 0 ? at : spreadOver(at, { fromMs: -overMs, toMs: 0 });
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
  const lightEnds = { ...state.lightEnds, [instance.key]: darkFrom(scene.at, run.lit) };
  const next = { ...withRun(state, scene, [instance.key, dark]), lightEnds };
  const owed = exposureNeeds(scene.layout, instance, dark).some((n) => n.owedMs > 0);
  return owed ? next : finish(next, scene, instance);
}

/** A skipped step keeps what was done; an exposure that is cut short is a breach. */
function skip(state: CaseState, scene: EventScene, instance: Instance, reason: string): CaseState {
  const dark = withoutPass(lightOff(state, scene, instance), instance);
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
  return { ...state, runs, voided, lightPass: passWithout(state, scene, keys) };
}

type Chosen = Extract<CaseEvent, { type: 'option-chosen' }>;

/**
 * A choice that loops voids the steps it names for all that belongs to the subject, but for a unit
 * that was set aside.
 */
function choose(state: CaseState, scene: EventScene, event: Chosen): CaseState {
  const answer = { option: event.option, evidence: event.evidence ?? null };
  const chosen = eachInstance(state, scene, event, (s, i) =>
    event.list === undefined
      ? finish(s, scene, i, answer)
      : finish(s, onList(s, scene, i), i, { ...answer, pressed: 'list' }),
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
      | 'light-pass-begun'
      | 'light-pass-stopped'
      | 'light-pass-confirmed'
      | 'step-skipped';
  }
>;

/** Applies an event of work. */
export function applyWork(state: CaseState, scene: EventScene, event: WorkEvent): CaseState {
  switch (event.type) {
    case 'step-confirmed': {
      const evidence = event.evidence ?? null;
      if (event.impliedBy !== undefined) return confirmImplied(state, scene, event);
      return eachInstance(state, scene, event, (s, i) =>
        event.list === undefined
          ? finish(s, scene, i, { evidence })
          : finish(s, onList(s, scene, i), i, { evidence, pressed: 'list' }),
      );
    }
    case 'step-started':
      return eachSwept(state, scene, event, begin);
    case 'step-ended':
      return eachSwept(state, scene, event, finish);
    case 'coat-applied':
      return eachInstance(state, scene, event, (s, i) =>
        coat(s, event.impliedBy === undefined ? scene : betweenCoats(s, scene, i), i),
      );
    case 'pass-made':
      return pass(state, scene, instanceAt(scene, event.step, event.subject));
    case 'option-chosen':
      return choose(state, scene, event);
    case 'exposure-started':
      return lightOn(state, scene, event);
    case 'exposure-stopped':
      return lightOff(state, scene, instanceAt(scene, event.step, event.subject));
    case 'light-pass-begun':
      return beginPass(state, scene, event);
    case 'light-pass-stopped':
      return state.lightPass === null
        ? state
        : { ...state, lightPass: stopped(state.lightPass, scene.at) };
    case 'light-pass-confirmed':
      return confirmPass(state, scene, event);
    case 'step-skipped':
      return eachInstance(state, scene, event, (s, i) => skip(s, scene, i, event.reason));
    default:
      return unreachable(event);
  }
}
