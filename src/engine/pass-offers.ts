/**
 * What may be pressed about a pass of light: begin one, stop it, go on with it, confirm it. A pass goes
 * over one surface of several teeth in turn, or over the surfaces of one tooth with its rests between.
 * Offered only while the tones are known to be heard. Times in ms.
 */
import { present } from '../base/assert.ts';
import { durationMs } from '../base/units.ts';
import type { Step } from '../protocol/types.ts';
import { litRun } from './apply-run.ts';
import { elapsed, shift } from './axis.ts';
import { exposureNeeds, nextPressMs } from './exposures.ts';
import { impliedBy } from './implied.ts';
import { type Instance, instanceKey, shareTooth, surfacePlans } from './layout.ts';
import { allLed, placeId, plainPlace } from './light-pass.ts';
import type { CaseNow, Draft, Implied } from './offer-draft.ts';
import type { PassPlace, TimedPlace } from './pressing-types.ts';
import { restLeftMs, surelyRestedMs, sureRestLeftMs } from './rest-left.ts';
import { StatusReader } from './status.ts';
import type { CaseState, LedPlace, LightPass } from './types.ts';
import type { Offer } from './view-types.ts';

interface Owed extends PassPlace {
  readonly instance: Instance;
  readonly surfaceIndex: number;
}

const isPaced = ({ pressed, action }: Step): boolean =>
  pressed?.kind === 'paced' && action.kind === 'expose';

const changeMsOf = ({ plan }: CaseNow['layout'], { id, pressed }: Step): number =>
  plan.changeMs?.[id] ?? (pressed?.kind === 'paced' ? pressed.changeMs.value : 0);

/** Every press of light that one tooth is still owed, in the order of its plan. */
function owedBy(scene: CaseNow, instance: Instance): Owed[] {
  const { subject } = instance;
  const run = scene.state.runs[instance.key];
  const plans = surfacePlans(scene.layout, instance);
  return exposureNeeds(scene.layout, instance, run).flatMap((need) => {
    const { surface, position, plan } = need;
    const surfaceIndex = plans.findIndex((each) => each.surface === surface);
    const found: Owed[] = [];
    let givenMs = need.givenLoMs;
    while (givenMs < need.setMs) {
      const setMs = nextPressMs(plan, givenMs);
      if (setMs <= 0) break;
      const nth = found.length + 1;
      const place = { instance, subject, surface, position, setMs, surfaceIndex };
      found.push(nth === 1 ? place : { ...place, nth });
      givenMs += setMs;
    }
    return found;
  });
}

/** The light goes surface by surface over the teeth, or is finished tooth by tooth. */
function inWalk(walk: 'by-surface' | 'by-unit', a: Owed, b: Owed): number {
  const unit = a.instance.subjectIndex - b.instance.subjectIndex;
  const surface = a.surfaceIndex - b.surfaceIndex;
  const position = a.position - b.position;
  return walk === 'by-surface' ? surface || position || unit : unit || surface || position;
}

/** What one pass goes over, of all that is owed. */
function onePass(owed: readonly Owed[], walk: 'by-surface' | 'by-unit'): readonly Owed[] {
  const [first] = owed;
  if (first === undefined) return [];
  const teeth = new Set(owed.map(({ subject }) => subject));
  const ofOne = owed.filter(({ subject }) => subject === first.subject);
  if (walk === 'by-unit' || teeth.size === 1) return ofOne;
  return owed.filter(({ surface }) => surface === first.surface);
}

interface Timing {
  readonly places: readonly TimedPlace[];
  /** Until the first tooth has rested. */
  readonly waitMs: number;
  /** After how much time the order may be another one, although nobody has pressed anything. */
  readonly turnsInMs: readonly number[];
}

/**
 * Every place with its tone, from now: the next is the first in the walk whose tooth has rested. The
 * presses of one position keep their order.
 */
function timed(
  scene: CaseNow,
  o: {
    readonly places: readonly (PassPlace & { instance: Instance })[];
    readonly changeMs: number;
  },
): Timing {
  const { layout } = scene;
  const ready = new Map<string, number>();
  const readyMs = ({ instance }: { instance: Instance }) => ready.get(instance.key) ?? 0;
  for (const { instance } of o.places) ready.set(instance.key, restLeftMs(scene, instance));
  const left = [...o.places];
  const found: TimedPlace[] = [];
  const waitMs = Math.min(...left.map(readyMs));
  // The press tells when its own place is lit; every later one may be lit a change-over off its tone.
  const isPressed = () => waitMs === 0 && found.length <= 1;
  const asLater = (instance: Instance) =>
    ready.set(instance.key, sureRestLeftMs(scene, instance, o.changeMs));
  if (!isPressed()) for (const { instance } of o.places) asLater(instance);
  const turns = new Set<number>();
  let atMs = waitMs;
  while (left.length > 0) {
    const soonestMs = Math.max(atMs, Math.min(...left.map(readyMs)));
    for (const place of left) turns.add(waitMs + Math.abs(readyMs(place) - soonestMs));
    const at = left.findIndex((place) => readyMs(place) <= soonestMs);
    const [next] = left.splice(at, 1);
    const { instance, ...place } = present(next, 'a place');
    const { subject, setMs } = place;
    found.push({ ...plainPlace(place), fromMs: soonestMs });
    const endMs = soonestMs + setMs;
    const unsureMs = (isPressed() ? 1 : 2) * o.changeMs;
    for (const { instance: other } of o.places) {
      if (shareTooth(layout, other.subject, subject)) {
        ready.set(other.key, endMs + surelyRestedMs(layout, other, unsureMs));
      } else if (isPressed()) asLater(other);
    }
    atMs = endMs + o.changeMs;
  }
  return { places: found, waitMs, turnsInMs: [...turns].flatMap((ms) => [ms, ms + 1]) };
}

function passDraft(o: {
  readonly kind: 'pass-begin' | 'pass-stop' | 'pass-confirm';
  readonly step: Step;
  readonly instances: readonly Instance[];
  readonly places: readonly PassPlace[];
  readonly dueInMs: number;
  readonly busyMs: number;
  readonly implied?: Implied;
  readonly turnsInMs?: readonly number[];
}): Draft {
  const { kind, step, instances, places, dueInMs, busyMs } = o;
  const subjects = [...new Set(places.map(({ subject }) => subject))];
  const surfaces = new Set(places.map(({ surface }) => surface));
  const [surface] = surfaces;
  const offer: Offer = {
    id: `${kind} ${step.id} ${places.map(placeId).join(', ')}`,
    step: step.id,
    subjects: subjects.length > 0 ? subjects : instances.map((i) => i.subject),
    kind,
    places,
    ...(surfaces.size === 1 && surface !== undefined ? { surface } : {}),
    dueInMs,
    slackMs: null,
    boundBy: null,
  };
  return {
    offer,
    instances,
    step,
    round: instances[0]?.round ?? 0,
    phase: kind === 'pass-begin' ? 'begin' : 'go-on',
    busyMs,
    ...(o.implied && { implied: o.implied }),
    ...(o.turnsInMs && { turnsInMs: o.turnsInMs }),
  };
}

const lengthMs = (places: readonly TimedPlace[]): number =>
  Math.max(0, ...places.map(({ fromMs, setMs }) => fromMs + setMs));

/** The same places as of a press that comes once the first tooth has rested. */
function asDue({ places }: Timing): readonly TimedPlace[] {
  const firstMs = Math.min(...places.map(({ fromMs }) => fromMs));
  return places.map((place) => ({ ...place, fromMs: place.fromMs - firstMs }));
}

/** The case as if all that the pass led through had been confirmed. */
function asConfirmed(scene: CaseNow, pass: LightPass, places: readonly LedPlace[]): CaseNow {
  const { layout, now } = scene;
  const runs = { ...scene.state.runs };
  const lightEnds = { ...scene.state.lightEnds };
  for (const { subject, surface, position, setMs, at } of places) {
    const key = instanceKey(pass.step, subject);
    const before = runs[key] ?? litRun(at);
    const given = { loMs: durationMs(setMs), hiMs: durationMs(setMs) };
    const exposures = [...before.exposures, { surface, position, setMs, given }];
    runs[key] = { ...before, status: 'running', exposures };
    lightEnds[key] = shift(at, setMs);
  }
  for (const subject of new Set(places.map((place) => place.subject))) {
    const key = instanceKey(pass.step, subject);
    const instance = layout.byKey.get(key);
    const run = runs[key];
    if (instance === undefined || run === undefined) continue;
    const isOwed = exposureNeeds(layout, instance, run).some(({ owedMs }) => owedMs > 0);
    if (!isOwed) runs[key] = { ...run, status: 'done', endedAt: lightEnds[key] ?? null };
  }
  const state: CaseState = { ...scene.state, runs, lightEnds, lightPass: null };
  return { state, layout, now, statuses: new StatusReader(state, layout) };
}

/** A rest as long as one between two exposures is led through by the tones. A design choice of this project. */
const GOES_ON_MS = 30_000;

/**
 * What is offered about a pass that is over: to confirm it, and to go on with the next pass of the same
 * step by the press that confirms this one, where no long rest lies between.
 */
function overOffers(scene: CaseNow, pass: LightPass, done: Draft): Draft[] {
  const { layout } = scene;
  const exposing = layout.instances.filter(({ step }) => step.id === pass.step);
  const led = allLed(pass);
  const next = nextPass(asConfirmed(scene, pass, led), exposing);
  if (next === null) return [done];
  const laterMs = next.offer.dueInMs - GOES_ON_MS;
  if (laterMs > 0) return [{ ...done, turnsInMs: [laterMs] }];
  const offer = {
    ...next.offer,
    dueInMs: 0,
    id: `${next.offer.id} after ${led.map(placeId).join(', ')}`,
    confirms: led.map(plainPlace),
  };
  return [{ ...next, phase: 'go-on', offer }, done];
}

/** What is offered while a pass is under way, stopped, or not confirmed. */
function ownOffers(scene: CaseNow, pass: LightPass): Draft[] {
  const { layout, now } = scene;
  const instanceOf = ({ subject }: PassPlace) => layout.byKey.get(`${pass.step}@${subject}`);
  const known = [...allLed(pass), ...pass.left];
  const instances = [...new Set(known.map(instanceOf))].filter((i) => i !== undefined);
  const [first] = instances;
  if (first === undefined) return [];
  const base = { step: first.step, instances, busyMs: 0 };
  if (pass.running !== null) {
    const leftMs = lengthMs(pass.running.places) - elapsed(pass.running.since, now).loMs;
    const places = allLed(pass);
    if (leftMs > 0) return [passDraft({ ...base, kind: 'pass-stop', places, dueInMs: leftMs })];
    return overOffers(
      scene,
      pass,
      passDraft({ ...base, kind: 'pass-confirm', places, dueInMs: 0 }),
    );
  }
  const confirm = passDraft({ ...base, kind: 'pass-confirm', places: pass.led, dueInMs: 0 });
  const left = pass.left.flatMap((place) => {
    const instance = instanceOf(place);
    return instance === undefined ? [] : [{ ...place, instance }];
  });
  if (left.length === 0 || !scene.state.tonesHeard) return [confirm];
  const next = timed(scene, { places: left, changeMs: pass.changeMs });
  const on = passDraft({
    ...base,
    kind: 'pass-begin',
    places: next.places,
    dueInMs: next.waitMs,
    busyMs: lengthMs(asDue(next)),
    turnsInMs: next.turnsInMs,
  });
  return [{ ...on, phase: 'go-on', offer: { ...on.offer, resumes: true } }, confirm];
}

/** The pass that could begin now; null where light is pressed place by place. */
export function nextPass(scene: CaseNow, exposing: readonly Instance[]): Draft | null {
  const { state, statuses } = scene;
  if (!state.tonesHeard || exposing.some(({ key }) => state.runs[key]?.lit)) return null;
  const ready = exposing.flatMap((instance) => {
    const isRunning = statuses.of(instance) === 'running';
    const implied = isRunning ? { steps: [], pass: false } : impliedBy(scene, instance);
    return implied === null || implied.pass ? [] : [{ instance, implied }];
  });
  const [first] = ready.toSorted((a, b) => a.instance.stepIndex - b.instance.stepIndex);
  if (first === undefined || !isPaced(first.instance.step)) return null;
  const { step } = first.instance;
  if (step.action.kind !== 'expose') return null;
  const { walk } = step.action;
  const own = ready.filter(({ instance }) => instance.stepIndex === first.instance.stepIndex);
  const owed = own
    .flatMap(({ instance }) => owedBy(scene, instance))
    .toSorted((a, b) => inWalk(walk, a, b));
  const places = onePass(owed, walk);
  if (places.length === 0) return null;
  const taken = new Set(places.map(({ instance }) => instance));
  const next = timed(scene, { places, changeMs: changeMsOf(scene.layout, step) });
  const steps = own.filter((o) => taken.has(o.instance)).flatMap(({ implied }) => implied.steps);
  return passDraft({
    kind: 'pass-begin',
    step,
    instances: [...taken],
    places: next.places,
    dueInMs: next.waitMs,
    busyMs: lengthMs(asDue(next)),
    implied: { steps: [...new Set(steps)], pass: false },
    turnsInMs: next.turnsInMs,
  });
}

/** The offers about a pass, where there is one. */
export function passOffers(scene: CaseNow): Draft[] {
  const { lightPass } = scene.state;
  return lightPass === null ? [] : ownOffers(scene, lightPass);
}

/** The tones of a pass over these places, from a press now: a tooth that has not rested is waited for. */
export function passTiming(
  scene: CaseNow,
  step: Step,
  places: readonly PassPlace[],
): { readonly places: readonly TimedPlace[]; readonly changeMs: number } {
  const changeMs = changeMsOf(scene.layout, step);
  const placed = places.flatMap((place) => {
    const instance = scene.layout.byKey.get(`${step.id}@${place.subject}`);
    return instance === undefined ? [] : [{ ...place, instance }];
  });
  return { places: timed(scene, { places: placed, changeMs }).places, changeMs };
}
