/**
 * What must be answered at once: the bead was found firm, cement is past its working time, or the light
 * failed. For each the likely ways on, best first: go on with what is seated, or take a way back. The bar
 * may show them side by side in the place of its calm offer; each is one press:
 *
 *     const [first] = answersNow(state, layout, view.at);
 *     // way-back → { do: 'take-way-back', wayBack: wayBack.id, mishap: wayBack.mishap, subjects, reason }
 *     // go-on    → { do: 'press', offer }, with a reason noted where `wantsReason` says so
 *
 * Empty while nothing of the kind has happened or once it was answered. Proposes only; people decide.
 */
import type { SubjectId } from '../protocol/subjects.ts';
import type { Mishap, WayBack } from '../protocol/types.ts';
import { elapsed } from './axis.ts';
import type { Pressed } from './commands.ts';
import { edgeInstant } from './edge-instant.ts';
import type { Layout, WindowPair } from './layout.ts';
import { mixWindows } from './mix-windows.ts';
import type { Draft } from './offer-draft.ts';
import { draftsOf } from './offers.ts';
import { StatusReader } from './status.ts';
import type { CaseInstant, CaseState } from './types.ts';
import { waysBackNow } from './ways-back.ts';
import { windowMaxMs } from './window-bounds.ts';

/** One way on, as a press. */
export type WayOn =
  | {
      readonly kind: 'go-on';
      readonly offer: Pressed;
      /** A limit is passed over: people say why. */
      readonly wantsReason: boolean;
    }
  | {
      readonly kind: 'way-back';
      readonly wayBack: WayBack;
      readonly subjects: readonly SubjectId[];
    };

/** What happened, to what, and the one or two likely ways on. */
export interface AtOnce {
  readonly because: 'bead-firm' | 'cement-over' | 'light-failed';
  /** The mix, or the case where the light failed. */
  readonly subject: SubjectId;
  readonly ways: readonly WayOn[];
}

interface Scene {
  readonly state: CaseState;
  readonly layout: Layout;
  readonly now: CaseInstant;
  readonly drafts: readonly Draft[];
}

const pressOf = ({ offer }: Draft): Pressed => {
  const { kind, step, subjects, surface, position, setMs } = offer;
  return {
    kind,
    step,
    subjects,
    ...(surface === undefined ? {} : { surface }),
    ...(position === undefined ? {} : { position }),
    ...(setMs === undefined ? {} : { setMs }),
  };
};

/** Working times that run between this mix and the end of its light. */
function workingPairs({ state, layout }: Scene, mix: SubjectId): readonly WindowPair[] {
  return mixWindows(layout).filter(({ window, from, to }) => {
    if (!from.endsWith(`@${mix}`)) return false;
    const hasBegun = edgeInstant(state.runs[from], window.from.edge) !== null;
    return hasBegun && edgeInstant(state.runs[to], window.to.edge) === null;
  });
}

/** Units of which the step after their loading is done: what holds them now is cement alone. */
function isSeated({ state, layout }: Scene, unit: SubjectId): boolean {
  const { steps } = layout.protocol;
  const loads = steps.filter(
    ({ action }) =>
      action.kind === 'confirm' &&
      action.evidence?.kind === 'read-back' &&
      action.evidence.of === 'loading',
  );
  const seats = steps.filter(({ per, after }) => {
    const isNext = after.some((a) => a.link === 'same' && loads.some((l) => l.id === a.step));
    return per === 'unit' && isNext;
  });
  return seats.some(({ id }) => edgeInstant(state.runs[`${id}@${unit}`], 'end') !== null);
}

/** The press that brings the light to what is seated from this mix; the nearest to the light first. */
function towardsLight(scene: Scene, mix: SubjectId): Draft | null {
  const { layout, drafts } = scene;
  const units = layout.subjects.linked(mix, 'unit').filter((u) => isSeated(scene, u));
  const ends = new Set(workingPairs(scene, mix).map(({ window }) => window.to.step));
  const last = Math.max(-1, ...layout.protocol.steps.map((s, i) => (ends.has(s.id) ? i : -1)));
  const found = drafts.filter(({ instances }) =>
    instances.every(
      ({ stepIndex, subject }) =>
        stepIndex <= last &&
        (subject === mix || layout.subjects.linked(subject, 'unit').some((u) => units.includes(u))),
    ),
  );
  const place = (d: Draft) => d.instances[0]?.stepIndex ?? 0;
  return units.length === 0 ? null : (found.toSorted((a, b) => place(b) - place(a))[0] ?? null);
}

function wayBackFor(
  { state, layout }: Scene,
  o: { readonly subject: SubjectId; readonly is: (wayBack: WayBack) => boolean },
): readonly WayOn[] {
  const found = waysBackNow(state, layout).find(
    ({ wayBack, subjects }) => o.is(wayBack) && subjects.includes(o.subject),
  );
  if (found === undefined) return [];
  return [{ kind: 'way-back', wayBack: found.wayBack, subjects: [o.subject] }];
}

const ofMishap = (mishap: Mishap) => (wayBack: WayBack) => wayBack.mishap === mishap;

/** Whether the bead of the cement that is out now was found firm; that of an earlier one tells nothing. */
function isFirm(scene: Scene, mix: SubjectId): boolean {
  const { beads, runs } = scene.state;
  const last = (beads[mix] ?? []).at(-1);
  if (last?.found !== 'firm') return false;
  return workingPairs(scene, mix).some(({ window, from }) => {
    const since = edgeInstant(runs[from], window.from.edge);
    return since !== null && last.at.loMs >= since.loMs;
  });
}

function ofMix(scene: Scene, mix: SubjectId): readonly AtOnce[] {
  const pairs = workingPairs(scene, mix);
  if (pairs.length === 0) return [];
  const on = towardsLight(scene, mix);
  const goOn = (wantsReason: boolean): readonly WayOn[] =>
    on === null ? [] : [{ kind: 'go-on', offer: pressOf(on), wantsReason }];
  if (isFirm(scene, mix)) {
    const back = wayBackFor(scene, { subject: mix, is: ofMishap('gelled-early') });
    return [{ because: 'bead-firm', subject: mix, ways: [...goOn(false), ...back] }];
  }
  const over = pairs.find((pair) => {
    const maxMs = windowMaxMs(scene.state, pair);
    const since = edgeInstant(scene.state.runs[pair.from], pair.window.from.edge);
    return maxMs !== undefined && since !== null && elapsed(since, scene.now).hiMs > maxMs;
  });
  if (over === undefined) return [];
  const back = wayBackFor(scene, { subject: mix, is: (w) => w.id === over.window.wayBack });
  return [{ because: 'cement-over', subject: mix, ways: [...back, ...goOn(true)] }];
}

/** The light failed and has not been on since: go on with the second one, or give up what it waits for. */
function ofLight(scene: Scene): readonly AtOnce[] {
  const { state, layout, drafts } = scene;
  const taken = state.waysBack.findLast(({ mishap }) => mishap === 'light-failed');
  if (taken === undefined) return [];
  const since = taken.at.loMs;
  const isLit = Object.values(state.runs).some(
    ({ lit }) => lit !== null && lit.since.loMs >= since,
  );
  const wasLit = Object.values(state.lightEnds).some((at) => at.loMs > since);
  if (isLit || wasLit) return [];
  const light = drafts.find(({ offer }) => offer.kind === 'light-on');
  const on: readonly WayOn[] =
    light === undefined ? [] : [{ kind: 'go-on', offer: pressOf(light), wantsReason: false }];
  const open = layout.subjects.order.mix.filter((mix) => workingPairs(scene, mix).length > 0);
  const back = open.flatMap((subject) => wayBackFor(scene, { subject, is: ofMishap('over-time') }));
  const weak = wayBackFor(scene, { subject: 'case', is: ofMishap('light-weak') });
  const ways = [...on, ...(back.length > 0 ? back : weak).slice(0, 1)];
  return ways.length === 0 ? [] : [{ because: 'light-failed', subject: 'case', ways }];
}

/** What is to be answered now, the most pressing first: the light, then mix by mix in seating order. */
export function answersNow(state: CaseState, layout: Layout, now: CaseInstant): readonly AtOnce[] {
  if (state.closed) return [];
  const statuses = new StatusReader(state, layout);
  const drafts = draftsOf({ state, layout, statuses, now });
  const scene: Scene = { state, layout, now, drafts };
  const { mix: mixes } = layout.subjects.order;
  return [...ofLight(scene), ...mixes.flatMap((mix) => ofMix(scene, mix))].filter(
    ({ ways }) => ways.length > 0,
  );
}
