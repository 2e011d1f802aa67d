/**
 * The only place where state changes: one recorded event in, the next state out. Corrections
 * (undo, retime, a settled gap) do not come here; `log.ts` folds anew without them.
 */
import { assert, unreachable } from '../base/assert.ts';
import { CASE_SUBJECT } from '../protocol/subjects.ts';
import { applyGap, type Correction, NO_CORRECTION, placed } from './apply-clock.ts';
import { doneBefore, type EventScene, type OwnRuns } from './apply-run.ts';
import { applyWork, voidRuns } from './apply-work.ts';
import { AXIS_START, place, shift } from './axis.ts';
import { instanceKey, layoutOf } from './layout.ts';
import { stopped } from './light-pass.ts';
import { isElsewhere } from './pen.ts';
import type { PenGiven, PenTaken } from './pen-types.ts';
import type { RunPlan } from './run-plan-types.ts';
import type { CaseEvent, CaseInstant, CaseState, Recorded, Stamp } from './types.ts';

type Opened = Extract<CaseEvent, { type: 'case-opened' }>;

/**
 * Steps that the earlier case has done already. They lie before the start of the axis, by the wall
 * clocks of the two cases: there is no other clock that both have seen.
 */
function earlierRuns({ spec, protocol }: Opened, stamp: Stamp): CaseState['runs'] {
  const { follows } = spec;
  if (follows === undefined) return {};
  const at = shift(AXIS_START, Math.min(0, follows.lastExposureWallMs - stamp.wallMs));
  const steps = protocol.steps.filter((s) => s.earlier === 'last-exposure' && s.per === 'case');
  const run = doneBefore(at, follows.caseId);
  return Object.fromEntries(steps.map((s) => [instanceKey(s.id, CASE_SUBJECT), run]));
}

/** The state just after a case was opened. */
function openedState(recorded: Recorded): CaseState {
  const { event, stamp } = recorded;
  assert(event.type === 'case-opened', 'a case begins with case-opened');
  return {
    opened: event,
    plan: event.plan,
    anchor: { stamp, at: AXIS_START, latest: stamp },
    runs: earlierRuns(event, stamp),
    lightEnds: {},
    lightPass: null,
    tonesHeard: false,
    breaches: [],
    voided: [],
    gaps: [],
    beads: {},
    materials: {},
    shades: [],
    emergencies: [],
    injections: [],
    waysBack: [],
    acknowledged: {},
    notes: [],
    roles: {},
    notation: event.spec.notation,
    pen: { holder: event.tablet ?? null, name: null, given: null },
    closed: null,
  };
}

/**
 * Moves units out of the mixes they were in and into a new one, which is seated right after the
 * first mix that it takes from. The units of one mix stay together in the seating order, otherwise
 * two mixes could wait for each other.
 */
function planWithMix(plan: RunPlan, units: readonly string[]): RunPlan {
  const taken = new Set(units);
  const place = (unit: string) => plan.order.indexOf(unit);
  const added = [...taken].sort((a, b) => place(a) - place(b));
  const kept = plan.mixes.map((mix) => mix.filter((u) => !taken.has(u)));
  const isSource = (i: number) => plan.mixes[i]?.some((u) => taken.has(u)) ?? false;
  const firstOf = (i: number) => Math.min(...(plan.mixes[i] ?? []).map(place));
  const seated = kept.map((_, i) => i).sort((a, b) => firstOf(a) - firstOf(b));
  const source = seated.findIndex(isSource);
  const groups = seated.map((i) => kept[i] ?? []);
  groups.splice(source + 1, 0, added);
  const order = groups.flat();
  return {
    ...plan,
    mixes: [...kept, added],
    order: order.length === plan.order.length ? order : plan.order,
  };
}

/** Nobody heard a tone while the tablet slept or was closed: the light counts as stopped when it was last seen. */
function passAtGap({ lightPass, anchor }: CaseState, before: Stamp): CaseState['lightPass'] {
  if (lightPass === null) return null;
  const seen = before.runId === anchor.stamp.runId ? before : anchor.latest;
  return stopped(lightPass, place(anchor, seen).at);
}

/** The same where another tablet goes on: the light counts as stopped when the one before last pressed. */
function passLeft({ lightPass, anchor }: CaseState): CaseState['lightPass'] {
  return lightPass && stopped(lightPass, place(anchor, anchor.latest).at);
}

/** A way back after which light does not count takes the pass that nobody has confirmed with it. */
function withoutLight(
  state: CaseState,
  { wayBack: id }: Extract<CaseEvent, { type: 'way-back-taken' }>,
): CaseState {
  const { lightPass, opened } = state;
  const wayBack = opened.protocol.waysBack.find((each) => each.id === id);
  const isOfLight =
    wayBack?.per === 'case' && wayBack.voids.some((v) => v.step === lightPass?.step);
  return isOfLight ? { ...state, lightPass: null } : state;
}

/** What no tone leads is not led: the light counts as stopped when the tones failed. */
function tonesNoted(state: CaseState, heard: boolean, at: CaseInstant): CaseState {
  const { lightPass } = state;
  const isLed = heard || lightPass === null;
  return { ...state, tonesHeard: heard, lightPass: isLed ? lightPass : stopped(lightPass, at) };
}

/** What is given up is watched no more: no tone leads the light from then on. */
function penGiven(
  state: CaseState,
  { tablet, name, to, toName }: PenGiven,
  at: CaseInstant,
): CaseState {
  const pen = { holder: tablet, name, given: { to, toName } };
  const { lightPass } = state;
  return { ...state, pen, lightPass: lightPass && stopped(lightPass, at) };
}

function penTaken(state: CaseState, taken: PenTaken): CaseState {
  const pen = { holder: taken.tablet, name: taken.name, given: null };
  return { ...state, pen, tonesHeard: !isElsewhere(state, taken) && state.tonesHeard };
}

/** Every kind of event once: the compiler asks what a new one does to the state. */
function applied(state: CaseState, scene: EventScene): CaseState {
  const { at, recorded } = scene;
  const { event, press } = recorded;
  switch (event.type) {
    case 'way-back-taken': {
      const { wayBack, mishap, subjects, reason } = event;
      const next = voidRuns(withoutLight(state, event), scene, event.voided, reason);
      const taken = { wayBack, mishap, subjects, reason, press, at };
      return { ...next, waysBack: [...next.waysBack, taken] };
    }
    case 'mix-added':
      return { ...state, plan: planWithMix(state.plan, event.units) };
    case 'plan-changed':
      return { ...state, plan: event.plan };
    case 'bead-probed': {
      const beads = [...(state.beads[event.mix] ?? []), { found: event.found, at }];
      return { ...state, beads: { ...state.beads, [event.mix]: beads } };
    }
    case 'material-named': {
      const lots = [...(state.materials[event.slot] ?? []), { material: event.material, at }];
      return { ...state, materials: { ...state.materials, [event.slot]: lots } };
    }
    case 'shade-tried':
      return { ...state, shades: [...state.shades, { trial: event.trial, at }] };
    case 'emergency-noted': {
      const { type: _, ...note } = event;
      return { ...state, emergencies: [...state.emergencies, { ...note, at }] };
    }
    case 'anaesthesia-given': {
      const { type: _, ...given } = event;
      return { ...state, injections: [...state.injections, { ...given, at }] };
    }
    case 'cue-acknowledged':
      return { ...state, acknowledged: { ...state.acknowledged, [event.cue]: true } };
    case 'tones-heard':
      return tonesNoted(state, event.heard, at);
    case 'note-added': {
      const { words, about } = event;
      const note = { words, at, by: recorded.by, ...(about === undefined ? {} : { about }) };
      return { ...state, notes: [...state.notes, note] };
    }
    case 'role-taken':
      return { ...state, roles: { ...state.roles, [event.role]: event.person } };
    case 'numbering-changed':
      return { ...state, notation: event.notation };
    case 'pen-given':
      return penGiven(state, event, at);
    case 'pen-taken':
      return penTaken(state, event);
    case 'visit-stopped':
      // The skipped steps of the same press change the work.
      return state;
    case 'case-closed':
      return { ...state, closed: { by: event.signedBy, role: event.role, at } };
    case 'gap-settled':
    case 'press-retimed':
    case 'press-retracted':
      // Corrections change how the log is read: they are folded in `log.ts`.
      return state;
    case 'case-opened':
    case 'gap-found':
      throw new Error(`event ${event.type} is not applied here`);
    case 'step-confirmed':
    case 'step-started':
    case 'step-ended':
    case 'coat-applied':
    case 'pass-made':
    case 'option-chosen':
    case 'exposure-started':
    case 'exposure-stopped':
    case 'light-pass-begun':
    case 'light-pass-stopped':
    case 'light-pass-confirmed':
    case 'step-skipped':
      return applyWork(state, scene, event);
    default:
      return unreachable(event);
  }
}

/**
 * Applies one recorded event. `state` is null before the first.
 * @param own handed on from event to event by a fold that keeps no state but the last.
 * @throws InvariantError when the event contradicts the state it was decided against.
 */
export function apply(
  state: CaseState | null,
  recorded: Recorded,
  correction: Correction = NO_CORRECTION,
  own: OwnRuns = new Map(),
): CaseState {
  if (state === null) return openedState(recorded);
  const { event } = recorded;
  if (event.type === 'gap-found') {
    const watched = { ...state, lightPass: passAtGap(state, event.before) };
    return applyGap(watched, recorded, event, correction);
  }
  const watched = event.type === 'pen-taken' ? { ...state, lightPass: passLeft(state) } : state;
  const moved = placed(watched, recorded, correction);
  const at = correction.shiftMs === 0 ? moved.at : shift(moved.at, correction.shiftMs);
  const scene = { layout: layoutOf(moved.state), recorded, at, own };
  return applied(moved.state, scene);
}
