/**
 * What must be answered at once: the bead was found firm, cement is past its working time, or the light
 * failed. For each the likely ways on, best first: go on with what is seated, or take a way back. The bar
 * says the first, the other stands beside it; {@link commandOf} makes a command of either.
 *
 * Empty while nothing of the kind has happened, and once people have answered it: with one of the two, or by
 * pressing on towards the light. Proposes only; people decide.
 */
import type { SubjectId } from '../protocol/subjects.ts';
import type { Mishap, WayBack } from '../protocol/types.ts';
import { elapsed, firstMs } from './axis.ts';
import type { Command } from './commands.ts';
import { edgeInstant } from './edge-instant.ts';
import { instanceKey, type Layout, type WindowPair } from './layout.ts';
import { isLedEdge, ledMoments } from './led.ts';
import { isLoading, mixWindows } from './mix-windows.ts';
import type { CaseInstant, CaseState } from './types.ts';
import type { AtOnce, Offer, WayOn } from './view-types.ts';
import { wayBackQuestion, waysBackOffered } from './way-back-asked.ts';
import { plannedMaxMs } from './window-bounds.ts';

interface Scene {
  readonly state: CaseState;
  readonly layout: Layout;
  readonly now: CaseInstant;
  /** What may be pressed, the first to come first. */
  readonly offers: readonly Offer[];
}

/** Working times that run between this mix and the end of its light. */
function workingPairs({ state, layout, now }: Scene, mix: SubjectId): readonly WindowPair[] {
  const led = ledMoments(state, layout, now);
  return mixWindows(layout).filter(({ window, from, to }) => {
    if (!from.endsWith(`@${mix}`)) return false;
    const hasBegun = edgeInstant(state.runs[from], window.from.edge) !== null;
    const isOpen = edgeInstant(state.runs[to], window.to.edge) === null;
    return hasBegun && isOpen && !isLedEdge(led, to, window.to.edge);
  });
}

/** Units of which the step after their loading is done: what holds them now is cement alone. */
function isSeated({ state, layout }: Scene, unit: SubjectId): boolean {
  const { steps } = layout.protocol;
  const loads = steps.filter(isLoading);
  const seats = steps.filter(({ per, after }) => {
    const isNext = after.some((a) => a.link === 'same' && loads.some((l) => l.id === a.step));
    return per === 'unit' && isNext;
  });
  return seats.some(({ id }) => edgeInstant(state.runs[`${id}@${unit}`], 'end') !== null);
}

/** The last step of the protocol that a working time of this mix waits for. */
function lastStepOf(scene: Scene, mix: SubjectId): number {
  const ends = new Set(workingPairs(scene, mix).map(({ window }) => window.to.step));
  return scene.layout.protocol.steps.findLastIndex((s) => ends.has(s.id));
}

function isOfMix({ layout }: Scene, o: { subject: SubjectId; units: readonly SubjectId[] }) {
  return layout.subjects.linked(o.subject, 'unit').some((u) => o.units.includes(u));
}

/** The press that brings the light to what is seated from this mix; the nearest to the light first. */
function towardsLight(scene: Scene, mix: SubjectId): Offer | null {
  const { layout, offers } = scene;
  const units = layout.subjects.linked(mix, 'unit').filter((u) => isSeated(scene, u));
  const last = lastStepOf(scene, mix);
  const place = (o: Offer) => layout.protocol.steps.findIndex(({ id }) => id === o.step);
  const found = offers.filter(
    (o) =>
      place(o) <= last &&
      o.subjects.every((subject) => subject === mix || isOfMix(scene, { subject, units })),
  );
  return units.length === 0 ? null : (found.toSorted((a, b) => place(b) - place(a))[0] ?? null);
}

/** Whether anything of this mix was begun, lit or ended at such an instant: people go on with it. */
function hasGoneOn(scene: Scene, mix: SubjectId, isLater: (at: CaseInstant) => boolean): boolean {
  const { state, layout } = scene;
  const units = layout.subjects.linked(mix, 'unit');
  const last = lastStepOf(scene, mix);
  const { running = null, step = '' } = state.lightPass ?? {};
  const isLed = (key: string) => running?.places.some((p) => instanceKey(step, p.subject) === key);
  return layout.instances.some(({ key, stepIndex, subject }) => {
    if (stepIndex > last || subject === 'case' || !isOfMix(scene, { subject, units })) return false;
    const run = state.runs[key];
    const since = isLed(key) ? running?.since : run?.lit?.since;
    const edges = [edgeInstant(run, 'start'), edgeInstant(run, 'end'), since];
    return [...edges, state.lightEnds[key]].some((at) => at != null && isLater(at));
  });
}

/** The way back of a mix; both of them, where it depends on a step that nobody pressed yet. */
function wayBackFor(
  { state, layout }: Scene,
  o: { readonly subject: SubjectId; readonly is: (wayBack: WayBack) => boolean },
): readonly WayOn[] {
  const found = waysBackOffered(state, layout).find(
    ({ wayBack, subjects }) => o.is(wayBack) && subjects.includes(o.subject),
  );
  if (found === undefined) return [];
  const asked = wayBackQuestion({ state, layout }, { ...found, subjects: [o.subject] });
  if (asked === null) {
    return [{ kind: 'way-back', wayBack: found.wayBack, subjects: [o.subject] }];
  }
  const no: readonly WayOn[] = asked.no === null ? [] : [{ kind: 'way-back', ...asked.no }];
  return [...no, { kind: 'way-back', ...asked.yes, done: asked.done }];
}

const ofMishap = (mishap: Mishap) => (wayBack: WayBack) => wayBack.mishap === mishap;

/** When the bead of the cement that is out now was found firm; that of an earlier one tells nothing. */
function firmSinceMs(scene: Scene, mix: SubjectId): number | null {
  const { beads, runs } = scene.state;
  const last = (beads[mix] ?? []).at(-1);
  if (last?.found !== 'firm') return null;
  const isOfThis = workingPairs(scene, mix).some(({ window, from }) => {
    const since = edgeInstant(runs[from], window.from.edge);
    return since !== null && last.at.loMs >= firstMs(since);
  });
  return isOfThis ? last.at.loMs : null;
}

interface Over {
  readonly pair: WindowPair;
  /** By the shortest time that may have passed, too. */
  readonly isSure: boolean;
  /** Whether an instant is, or may be, past the working time. */
  readonly isPast: (at: CaseInstant) => boolean;
}

/** The working time of this mix that may be over, as it was planned: a firm bead is a question of its own. */
function overOf(scene: Scene, mix: SubjectId): Over | null {
  const { state, now } = scene;
  const [first] = workingPairs(scene, mix).flatMap((pair) => {
    const maxMs = plannedMaxMs(pair.window, state.plan);
    const since = edgeInstant(state.runs[pair.from], pair.window.from.edge);
    if (maxMs === undefined || since === null) return [];
    const isPast = (at: CaseInstant): boolean => elapsed(since, at).hiMs > maxMs;
    return isPast(now) ? [{ pair, isPast, isSure: elapsed(since, now).loMs > maxMs }] : [];
  });
  return first ?? null;
}

function ofMix(scene: Scene, mix: SubjectId): readonly AtOnce[] {
  const firmMs = firmSinceMs(scene, mix);
  const over = overOf(scene, mix);
  if (firmMs === null && over === null) return [];
  const light = towardsLight(scene, mix);
  const on = light ?? scene.offers[0];
  const goOn: readonly WayOn[] = on === undefined ? [] : [{ kind: 'go-on', offer: on }];
  if (over !== null && !hasGoneOn(scene, mix, over.isPast)) {
    const { wayBack } = over.pair.window;
    const back = wayBackFor(scene, { subject: mix, is: (w) => w.id === wayBack });
    const because = over.isSure ? 'cement-over' : 'cement-may-be-over';
    return [{ because, subject: mix, ways: [...back, ...goOn] }];
  }
  if (firmMs === null || hasGoneOn(scene, mix, ({ loMs }) => loMs > firmMs)) return [];
  const back = wayBackFor(scene, { subject: mix, is: ofMishap('gelled-early') });
  // Light on what is seated is the likelier answer; where nothing is seated, a new portion is.
  const ways = light === null ? [...back, ...goOn] : [...goOn, ...back];
  return [{ because: 'bead-firm', subject: mix, ways }];
}

/**
 * The light failed and is wanted now: another one is put on. That ends the question, and so does any way
 * back that is taken since; to give up what waits for the light is among what went wrong.
 */
function ofLight({ state, offers }: Scene): readonly AtOnce[] {
  const at = state.waysBack.findLastIndex(({ mishap }) => mishap === 'light-failed');
  const taken = state.waysBack[at];
  if (taken === undefined || at < state.waysBack.length - 1) return [];
  const since = taken.at.loMs;
  const isPassOn = (state.lightPass?.running?.since.loMs ?? -1) >= since;
  const isLit = Object.values(state.runs).some(
    ({ lit }) => lit !== null && lit.since.loMs >= since,
  );
  const wasLit = Object.values(state.lightEnds).some(({ loMs }) => loMs > since);
  const light = offers.find(({ kind }) => kind === 'light-on' || kind === 'pass-begin');
  if (isLit || isPassOn || wasLit || light === undefined) return [];
  return [{ because: 'light-failed', subject: 'case', ways: [{ kind: 'go-on', offer: light }] }];
}

/** What a way on does. */
export function commandOf(way: WayOn): Command {
  if (way.kind === 'go-on') return { do: 'press', offer: way.offer };
  const { id, mishap, title } = way.wayBack;
  const { subjects, done } = way;
  const command = { do: 'take-way-back', wayBack: id, mishap, subjects, reason: title } as const;
  return done === undefined ? command : { ...command, wasDone: true };
}

/** What is to be answered now, the most pressing first: the light, then mix by mix in seating order. */
export function answersNow(scene: Scene): readonly AtOnce[] {
  if (scene.state.closed) return [];
  const { mix: mixes } = scene.layout.subjects.order;
  return [...ofLight(scene), ...mixes.flatMap((mix) => ofMix(scene, mix))].filter(
    ({ ways }) => ways.length > 0,
  );
}
