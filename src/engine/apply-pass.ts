/** What a pass of light does to the state: nothing counts of it before somebody has confirmed it. */
import { present } from '../base/assert.ts';
import { durationMs } from '../base/units.ts';
import { begin, type EventScene, finish, instanceAt, withBreaches, withRun } from './apply-run.ts';
import { compareHi, shift } from './axis.ts';
import { exposureNeeds } from './exposures.ts';
import { type Instance, instanceKey } from './layout.ts';
import { allLed, placeId, withoutSubject } from './light-pass.ts';
import { type LightEnd, restBreaches } from './rest-kept.ts';
import type { Breach, CaseEvent, CaseState, InstanceKey, LedPlace, StepRun } from './types.ts';

/** The tooth on which the light was cut rests from then on, whatever is confirmed. */
function withCutEnd(state: CaseState): CaseState {
  const { lightPass } = state;
  const cut = lightPass?.cut ?? null;
  if (lightPass === null || cut === null) return state;
  const key = instanceKey(lightPass.step, cut.place.subject);
  const before = state.lightEnds[key];
  if (before !== undefined && compareHi(before, cut.at) > 0) return state;
  return { ...state, lightEnds: { ...state.lightEnds, [key]: cut.at } };
}

type PassBegun = Extract<CaseEvent, { type: 'light-pass-begun' }>;

/** Nothing is begun by it yet: what was led through counts once it is confirmed. */
export function beginPass(state: CaseState, scene: EventScene, event: PassBegun): CaseState {
  const { step, places, changeMs } = event;
  const led = state.lightPass?.led ?? [];
  const endsBefore = state.lightPass?.endsBefore ?? state.lightEnds;
  const running = { since: scene.at, places };
  const lightPass = { step, changeMs, led, running, left: [], cut: null, endsBefore };
  return { ...withCutEnd(state), lightPass };
}

type PassConfirmed = Extract<CaseEvent, { type: 'light-pass-confirmed' }>;

/** The places that were lit count with the instants of their tones; the rest stays due. */
export function confirmPass(state: CaseState, scene: EventScene, event: PassConfirmed): CaseState {
  const { lightPass } = state;
  if (lightPass === null) return state;
  const wanted = new Set(event.places.map(placeId));
  const led = allLed(lightPass).filter((place) => wanted.has(placeId(place)));
  const dark = { ...withCutEnd(state), lightPass: null };
  const ends = [...Object.entries(lightPass.endsBefore), ...Object.entries(dark.lightEnds)];
  const lit = led.reduce(litByPass(scene, event.step), dark);
  return withBreaches(lit, restsInPass(scene, { state: lit, step: event.step, led, ends }));
}

/** The rests before each place of a pass: since the light before it, and since the places before. */
function restsInPass(
  { layout, recorded }: EventScene,
  o: {
    readonly state: CaseState;
    readonly step: string;
    readonly led: readonly LedPlace[];
    readonly ends: readonly LightEnd[];
  },
): readonly Breach[] {
  const ends = [...o.ends];
  const found: Breach[] = [];
  for (const { subject, at, setMs } of o.led) {
    const key = instanceKey(o.step, subject);
    const state = withBreaches(o.state, found);
    const instance = present(layout.byKey.get(key), key);
    found.push(...restBreaches({ state, layout, instance, at, press: recorded.press, ends }));
    ends.push([key, shift(at, setMs)]);
  }
  return found;
}

const litByPass =
  (scene: EventScene, step: string) =>
  (state: CaseState, { subject, surface, position, setMs, at }: LedPlace): CaseState => {
    const instance = instanceAt(scene, step, subject);
    const begun = begin(state, { ...scene, at }, instance, { pressed: 'paced' });
    const run = present(begun.runs[instance.key], instance.key);
    const given = { loMs: durationMs(setMs), hiMs: durationMs(setMs) };
    const { press } = scene.recorded;
    const dark: StepRun = {
      ...run,
      status: 'running',
      exposures: [...run.exposures, { surface, position, setMs, given, paced: { at, press } }],
    };
    const endedAt = shift(at, setMs);
    const before = begun.lightEnds[instance.key];
    const last = before === undefined || compareHi(endedAt, before) > 0 ? endedAt : before;
    const lightEnds = { ...begun.lightEnds, [instance.key]: last };
    const next = { ...withRun(begun, scene, [instance.key, dark]), lightEnds };
    const owed = exposureNeeds(scene.layout, instance, dark).some((n) => n.owedMs > 0);
    return owed ? next : finish(next, { ...scene, at: last }, instance);
  };

/** A pass of light that nobody confirms any more on this instance. */
export function withoutPass(state: CaseState, { step, subject }: Instance): CaseState {
  const { lightPass } = state;
  if (lightPass?.step !== step.id) return state;
  return { ...state, lightPass: withoutSubject(lightPass, subject) };
}

/** The pass of light without the teeth whose earlier work no longer counts. */
export function passWithout(
  { lightPass }: CaseState,
  { layout }: EventScene,
  keys: readonly InstanceKey[],
): CaseState['lightPass'] {
  const per = layout.byStep.get(lightPass?.step ?? '')?.[0]?.step.per;
  if (per === undefined) return lightPass;
  const touched = keys.flatMap((key) => {
    const subject = layout.byKey.get(key)?.subject ?? 'case';
    return subject === 'case' ? [] : layout.subjects.linked(subject, per);
  });
  return [...new Set(touched)].reduce(
    (pass, subject) => pass && withoutSubject(pass, subject),
    lightPass,
  );
}
