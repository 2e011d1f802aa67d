/**
 * The steps of a record: one fact for each step on each subject, in the order of the protocol and,
 * within a step, of the subjects. Times in milliseconds. A minimum is judged by the shortest
 * possible time, a maximum by the longest.
 */
import { durationMs } from '../base/units.ts';
import { elapsed } from '../engine/axis.ts';
import { exposureNeeds } from '../engine/exposures.ts';
import { type Instance, instanceKey, layoutOf, surfacePlans } from '../engine/layout.ts';
import type { Elapsed, InstanceKey, StepRun } from '../engine/types.ts';
import { readerOf } from '../engine/view.ts';
import type { Step } from '../protocol/types.ts';
import type { Touch } from './press-log.ts';
import { instantFact, knownMs, lengthFact, type RecordFrame } from './record-frame.ts';
import type {
  AskedFact,
  EdgeFact,
  ExposureFact,
  PressedHow,
  PressFact,
  StepFact,
  SurfaceFact,
  UndoneFact,
  VoidedFact,
} from './record-types.ts';
import { doneByFact } from './record-who.ts';

const NOTHING_ASKED: AskedFact = {
  minMs: null,
  targetMs: null,
  maxMs: null,
  count: null,
  betweenMs: null,
};

function askedOf(step: Step | undefined): AskedFact {
  const action = step?.action;
  if (action?.kind === 'dwell') {
    return {
      ...NOTHING_ASKED,
      minMs: action.minMs?.value ?? null,
      targetMs: action.targetMs.value,
      maxMs: action.maxMs?.value ?? null,
    };
  }
  if (action?.kind === 'coats') {
    const betweenMs = action.gapMsMin?.value ?? null;
    return { ...NOTHING_ASKED, count: action.count.value, betweenMs };
  }
  if (action?.kind === 'expose') {
    return { ...NOTHING_ASKED, betweenMs: action.restMs?.value ?? null };
  }
  if (action?.kind === 'tally') return { ...NOTHING_ASKED, count: action.passesMax.value };
  return NOTHING_ASKED;
}

interface Ran {
  readonly key: InstanceKey;
  readonly run: StepRun;
  readonly touches: readonly Touch[];
}

function edges(frame: RecordFrame, ran: Ran, [first]: readonly ExposureFact[]) {
  const { run } = ran;
  // What a pass of light leads over begins when somebody has confirmed it.
  const touches = ran.touches.filter(({ type }) => type !== 'light-pass-begun');
  const edge = (at: StepRun['startedAt'], pressed: PressFact | null): EdgeFact | null =>
    at === null ? null : { at: instantFact(frame, at), pressed };
  const of = (touch: Touch | undefined) => (touch ? frame.presses.pressed(touch.press) : null);
  const on = first?.isPaced === true ? first.on : of(touches[0]);
  return { start: edge(run.startedAt, on), end: edge(run.endedAt, of(touches.at(-1))) };
}

/**
 * The n-th exposure that was pressed for itself was switched on by the n-th press on light and ended by
 * the next one after; one that tones led to was begun and confirmed with its pass.
 */
function exposureFacts(frame: RecordFrame, { run, touches }: Ran): ExposureFact[] {
  const ons = touches.flatMap((t, i) => (t.type === 'exposure-started' ? [i] : []));
  const offOf = (i: number) => touches.slice(i + 1).find(({ type }) => type !== 'light-pass-begun');
  return run.exposures.map(({ surface, position, setMs, given, paced }) => {
    const i = paced === undefined ? ons.shift() : undefined;
    const own = i === undefined ? undefined : touches[i];
    const on = paced === undefined ? own?.press : begunWith(touches, paced.press);
    const off = paced === undefined ? i !== undefined && offOf(i)?.press : paced.press;
    const onAt = paced?.at ?? (own ? frame.moments.get(own.press) : undefined);
    const pressed = (press: number | false | undefined) =>
      typeof press === 'number' ? frame.presses.pressed(press) : null;
    return {
      surface,
      position,
      setMs,
      given: { loMs: given.loMs, hiMs: given.hiMs },
      onAt: onAt ? instantFact(frame, onAt) : null,
      on: pressed(on),
      off: pressed(off),
      isPaced: paced !== undefined,
    };
  });
}

/** The press that began the pass which this one confirmed: the first since the confirmation before. */
function begunWith(touches: readonly Touch[], confirmed: number): number | undefined {
  const end = touches.findIndex((t) => t.type === 'light-pass-confirmed' && t.press === confirmed);
  const before = touches.slice(0, end).findLastIndex((t) => t.type === 'light-pass-confirmed');
  return touches.slice(before + 1, end).find((t) => t.type === 'light-pass-begun')?.press;
}

/** How it is known that it was done, where no press was for it alone. */
function pressedHow(frame: RecordFrame, { run, touches }: Ran): PressedHow | null {
  const paced = run.exposures.filter((e) => e.paced !== undefined);
  if (paced.length > 0) {
    return { kind: 'paced', pacedMs: paced.reduce((ms, e) => ms + e.setMs, 0) };
  }
  const swept = touches.filter(({ event }) => 'sweep' in event && event.sweep !== undefined);
  if (swept.length > 0) {
    const has = (type: Touch['type']) => swept.some((t) => t.type === type);
    return { kind: 'swept', start: has('step-started'), end: has('step-ended') };
  }
  const { press, event } = touches.at(-1) ?? {};
  if (press === undefined || event === undefined) return null;
  if (event.type === 'step-confirmed' && event.impliedBy !== undefined) {
    const by = event.impliedBy;
    return { kind: 'implied', by, title: frame.steps.get(by)?.title ?? by };
  }
  if (!('list' in event) || event.list === undefined) return null;
  const { list } = event;
  const lines = frame.presses.linesOf(press, list);
  const title = frame.protocol.lists?.find(({ id }) => id === list)?.title ?? list;
  // A line that was taken alone was pressed for itself.
  return lines > 1 ? { kind: 'list', title, lines } : null;
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

/** The worst of what was too short between two coats or exposures of this run: what is sure before what may be. */
function judgedBetween({ state }: RecordFrame, { key, touches }: Ran) {
  const presses = new Set(touches.map(({ press }) => press));
  const own = state.breaches.filter(
    (b) =>
      (b.kind === 'gap-short' || b.kind === 'rest-short') &&
      instanceKey(b.of, b.subject) === key &&
      presses.has(b.press),
  );
  const sure = own.filter((b) => b.perhaps !== true);
  const told = sure.length > 0 ? sure : own;
  return {
    betweenShortByMs: Math.max(0, ...told.map(({ by }) => by)),
    betweenPerhaps: own.length > 0 && sure.length === 0,
  };
}

function judged(
  { run, asked, took }: { run: StepRun; asked: AskedFact; took: Elapsed | null },
  surfaces: readonly SurfaceFact[],
) {
  const kept = { shortByMs: 0, overByMs: 0, shortPerhaps: false, overPerhaps: false };
  if (run.status === 'skipped') {
    // Light that was broken off is short of what its surfaces were still owed.
    return { ...kept, shortByMs: surfaces.reduce((ms, { owedMs }) => ms + owedMs, 0) };
  }
  if (took === null || run.status !== 'done') return kept;
  const leastMs = asked.minMs ?? 0;
  const mostMs = asked.maxMs ?? Number.POSITIVE_INFINITY;
  const [isShort, isOver] = [took.loMs < leastMs, took.hiMs > mostMs];
  return {
    shortByMs: isShort ? leastMs - took.loMs : 0,
    overByMs: isOver ? knownMs(took.hiMs - mostMs) : 0,
    shortPerhaps: isShort && took.hiMs >= leastMs,
    overPerhaps: isOver && took.loMs <= mostMs,
  };
}

const MOMENT: Elapsed = { loMs: durationMs(0), hiMs: durationMs(0) };

/** What is confirmed or chosen has one moment, however wide it is known. */
function tookOf(step: Step | undefined, { startedAt, endedAt }: StepRun): Elapsed | null {
  if (startedAt === null || endedAt === null) return null;
  const isMoment = step?.action.kind === 'confirm' || step?.action.kind === 'choose';
  return isMoment ? MOMENT : elapsed(startedAt, endedAt);
}

function stepFact(frame: RecordFrame, ran: Ran): StepFact {
  const { key, run } = ran;
  const at = key.indexOf('@');
  const id = key.slice(0, at);
  const subject = key.slice(at + 1);
  const step = frame.steps.get(id);
  // What was asked of this very subject: some times differ by the class of its ceramic.
  const asked = askedOf(layoutOf(frame.state).byKey.get(key)?.step ?? step);
  const took = tookOf(step, run);
  const exposures = exposureFacts(frame, ran);
  const surfaces = surfaceFacts(frame, frame.layout.byKey.get(key), run);
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
    pressed: pressedHow(frame, ran),
    doneBy: doneByFact(frame, { step, run, touches: ran.touches }),
    ...edges(frame, ran, exposures),
    elapsed: took && lengthFact(took),
    asked,
    ...judged({ run, asked, took }, surfaces),
    ...judgedBetween(frame, ran),
    counts: run.counts.map((c) => instantFact(frame, c)),
    exposures,
    surfaces,
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
