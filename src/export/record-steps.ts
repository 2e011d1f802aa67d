/**
 * The steps of a record: one fact for each step on each subject, in the order of the protocol and,
 * within a step, of the subjects. Times in milliseconds. A minimum is judged by the shortest
 * possible time, a maximum by the longest.
 */
import { elapsed } from '../engine/axis.ts';
import { traitsOf } from '../engine/event-traits.ts';
import { exposureNeeds } from '../engine/exposures.ts';
import { type Instance, layoutOf, surfacePlans } from '../engine/layout.ts';
import type { Elapsed, InstanceKey, StepRun } from '../engine/types.ts';
import { readerOf } from '../engine/view.ts';
import type { Step } from '../protocol/types.ts';
import type { Touch } from './press-log.ts';
import { instantFact, knownMs, lengthFact, type RecordFrame } from './record-frame.ts';
import type {
  AskedFact,
  EdgeFact,
  ExposureFact,
  StepFact,
  SurfaceFact,
  UndoneFact,
  VoidedFact,
} from './record-types.ts';
import { doneByFact } from './record-who.ts';

const NOTHING_ASKED: AskedFact = { minMs: null, targetMs: null, maxMs: null, count: null };

function askedOf(step: Step | undefined): AskedFact {
  const action = step?.action;
  if (action?.kind === 'dwell') {
    return {
      minMs: action.minMs?.value ?? null,
      targetMs: action.targetMs.value,
      maxMs: action.maxMs?.value ?? null,
      count: null,
    };
  }
  if (action?.kind === 'coats') return { ...NOTHING_ASKED, count: action.count.value };
  if (action?.kind === 'tally') return { ...NOTHING_ASKED, count: action.passesMax.value };
  return NOTHING_ASKED;
}

interface Ran {
  readonly key: InstanceKey;
  readonly run: StepRun;
  readonly touches: readonly Touch[];
}

function edges(frame: RecordFrame, { run, touches }: Ran) {
  const edge = (at: StepRun['startedAt'], touch: Touch | undefined): EdgeFact | null =>
    at === null
      ? null
      : {
          at: instantFact(frame, at),
          pressed: touch ? frame.presses.pressed(touch.press) : null,
        };
  return { start: edge(run.startedAt, touches[0]), end: edge(run.endedAt, touches.at(-1)) };
}

/** The n-th exposure was switched on by the n-th press on light and ended by the next one after. */
function exposureFacts(frame: RecordFrame, { run, touches }: Ran): ExposureFact[] {
  const ons = touches.flatMap((t, i) => (traitsOf(t).light === 'on' ? [i] : []));
  return run.exposures.map(({ surface, position, setMs, given }, n) => {
    const on = touches[ons[n] ?? -1];
    const off = on ? touches[(ons[n] ?? 0) + 1] : undefined;
    const onAt = on ? frame.moments.get(on.press) : undefined;
    return {
      surface,
      position,
      setMs,
      given: { loMs: given.loMs, hiMs: given.hiMs },
      onAt: onAt ? instantFact(frame, onAt) : null,
      on: on ? frame.presses.pressed(on.press) : null,
      off: off ? frame.presses.pressed(off.press) : null,
    };
  });
}

function surfaceFacts(
  frame: RecordFrame,
  instance: Instance | undefined,
  run: StepRun | undefined,
): SurfaceFact[] {
  if (!instance) return [];
  const needs = exposureNeeds(frame.layout, instance, run);
  return surfacePlans(frame.layout, instance).map((plan): SurfaceFact => {
    const own = needs.filter((n) => n.surface === plan.surface);
    return {
      surface: plan.surface,
      positions: plan.positions,
      decidedBy: plan.decidedBy,
      setMs: plan.setMs * plan.positions,
      givenMs: own.reduce((ms, n) => ms + n.givenLoMs, 0),
      owedMs: own.reduce((ms, n) => ms + n.owedMs, 0),
    };
  });
}

function judged(run: StepRun, asked: AskedFact, took: Elapsed | null) {
  if (took === null || run.status !== 'done') return { shortByMs: 0, overByMs: 0 };
  return {
    shortByMs: asked.minMs === null ? 0 : Math.max(0, asked.minMs - took.loMs),
    overByMs: asked.maxMs === null ? 0 : knownMs(Math.max(0, took.hiMs - asked.maxMs)),
  };
}

function stepFact(frame: RecordFrame, ran: Ran): StepFact {
  const { key, run } = ran;
  const at = key.indexOf('@');
  const id = key.slice(0, at);
  const subject = key.slice(at + 1);
  const step = frame.steps.get(id);
  // What was asked of this very subject: some times differ by the class of its ceramic.
  const asked = askedOf(layoutOf(frame.state).byKey.get(key)?.step ?? step);
  const took = run.startedAt && run.endedAt ? elapsed(run.startedAt, run.endedAt) : null;
  const options = step?.action.kind === 'choose' ? step.action.options : [];
  const by = frame.spec.people.find((p) => p.id === run.by)?.label ?? run.by;
  return {
    key,
    step: id,
    title: step?.title ?? id,
    stage: step?.stage ?? '',
    action: step?.action.kind ?? null,
    subject,
    teeth: frame.teethOf(subject),
    status: run.status,
    by,
    doneBy: doneByFact(frame, { step, run, touches: ran.touches }),
    ...edges(frame, ran),
    elapsed: took && lengthFact(took),
    asked,
    ...judged(run, asked, took),
    counts: run.counts.map((c) => instantFact(frame, c)),
    exposures: exposureFacts(frame, ran),
    surfaces: surfaceFacts(frame, frame.layout.byKey.get(key), run),
    evidence: run.evidence,
    option: run.option,
    optionLabel: options.find((o) => o.id === run.option)?.label ?? null,
    reason: run.reason,
  };
}

/** Every step that was begun, done or skipped and still counts. */
export function stepFacts(frame: RecordFrame): StepFact[] {
  const { runs } = frame.state;
  const inOrder = frame.layout.instances.map((i) => i.key);
  const known = new Set(inOrder);
  // A later plan may have no place for a mix that was worked on: it is told after the others.
  const others = Object.keys(runs)
    .filter((key) => !known.has(key))
    .sort();
  return [...inOrder, ...others].flatMap((key) => {
    const run = runs[key];
    return run ? [stepFact(frame, { key, run, touches: frame.presses.touches(key) })] : [];
  });
}

/** Runs that no longer count, oldest first, with the reason. */
export function voidedFacts(frame: RecordFrame): VoidedFact[] {
  return frame.state.voided.map(({ key, run, press, reason }) => ({
    ...stepFact(frame, { key, run, touches: frame.presses.voidedTouches(key, press) }),
    voidedByPress: press,
    voidedBecause: reason,
  }));
}

/** Steps that apply and have not been begun. */
export function undoneFacts(frame: RecordFrame): UndoneFact[] {
  const { layout, statuses } = readerOf(frame.state);
  return layout.instances.flatMap((instance) => {
    const status = statuses.of(instance);
    if (status !== 'open' && status !== 'blocked') return [];
    const { key, step, subject } = instance;
    const surfaces = surfaceFacts(frame, instance, undefined);
    return [{ key, step: step.id, title: step.title, subject, surfaces }];
  });
}
