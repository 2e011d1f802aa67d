/**
 * What to do now, best first. What is due comes before what can wait; among the due, the one with
 * the least slack. A new thing is begun only if the hands are back before a running clock wants
 * them, or if the round was planned that way. Times in ms.
 */
import { paceOf } from '../protocol/pace.ts';
import type { Step } from '../protocol/types.ts';
import { AGES_MS, afterMishap, endsNow } from './after-mishap.ts';
import { elapsed, finiteHiMs } from './axis.ts';
import { keepsHands } from './case-bounds.ts';
import { edgeInstant } from './edge-instant.ts';
import { sinceKnown } from './implied.ts';
import { isLedEdge, ledAt, ledMoments, UNCONFIRMED_MS } from './led.ts';
import { lightTurnsInMs } from './light-offers.ts';
import { overSinceMs } from './light-pass.ts';
import { latestMoments } from './network.ts';
import type { CaseNow, Draft } from './offer-draft.ts';
import { draftsOf } from './offers.ts';
import type { Status } from './status.ts';
import type { CaseInstant } from './types.ts';
import type { Offer } from './view-types.ts';
import { type WayInHand, waysInHand } from './way-in-hand.ts';
import { windowMaxMs } from './window-bounds.ts';

interface Bound {
  readonly slackMs: number | null;
  readonly boundBy: string | null;
  readonly slackMostMs?: number;
}

/** What binds an offer directly: the step's own maximum, or a window that it would close. */
function directBound(scene: CaseNow, draft: Draft): Bound {
  let least: Bound = { slackMs: null, boundBy: null };
  // Of all bounds: one that is surely passed is not hidden behind one that only may be.
  let mostMs = Number.POSITIVE_INFINITY;
  const bind = (maxMs: number, since: CaseInstant, boundBy: string): void => {
    const passed = elapsed(since, scene.now);
    const slackMs = maxMs - passed.hiMs;
    mostMs = Math.min(mostMs, maxMs - passed.loMs);
    if (least.slackMs === null || slackMs < least.slackMs) least = { slackMs, boundBy };
  };
  const led = ledMoments(scene.state, scene.layout, scene.now);
  for (const instance of draft.instances) {
    const { action } = instance.step;
    const run = scene.state.runs[instance.key];
    if (action.kind === 'dwell' && action.maxMs && run?.startedAt && !run.endedAt) {
      bind(action.maxMs.value, run.startedAt, instance.step.id);
    }
    const pairs = scene.layout.windowsTo.get(instance.key);
    if (pairs === undefined) continue;
    for (const pair of pairs) {
      const { window, from } = pair;
      const { edge } = window.from;
      const since = edgeInstant(scene.state.runs[from], edge) ?? ledAt(led, from, edge);
      if (!since || edgeInstant(run, window.to.edge) !== null) continue;
      if (isLedEdge(led, instance.key, window.to.edge)) continue;
      const maxMs = windowMaxMs(scene.state, pair);
      if (maxMs !== undefined) bind(maxMs, since, window.id);
    }
  }
  const isExact = least.slackMs === null || least.slackMs === mostMs;
  return isExact ? least : { ...least, slackMostMs: mostMs };
}

/** What binds an offer: the soonest of its own bounds, or what still has to follow it. */
function boundOf(scene: CaseNow, draft: Draft, latestMs: Float64Array): Bound {
  const nowMs = finiteHiMs(scene.now);
  let chain = Number.POSITIVE_INFINITY;
  for (const { key, index } of draft.instances) {
    // Light goes on again on a unit whose exposure has begun: then only its end is still to come.
    const isStart = draft.phase === 'begin' && !scene.state.runs[key]?.startedAt;
    const ms = (latestMs[isStart ? 2 * index : 2 * index + 1] ?? Number.NaN) - nowMs;
    if (ms < chain) chain = ms;
  }
  const least = directBound(scene, draft);
  if (least.slackMs !== null && least.slackMs <= chain) return least;
  return { slackMs: Number.isFinite(chain) ? chain : null, boundBy: null };
}

interface Ranked {
  readonly draft: Draft;
  offer: Offer;
  readonly stepIndex: number;
  tier: number;
  /** The least slack of all offers of its step in its tier. */
  stepSlackMs: number;
}

/** The offer with what binds it. Written out: a spread would cost more than finding what binds. */
function bound(offer: Offer, by: Bound): Offer {
  const { id, step, subjects, kind, dueInMs } = offer;
  const isPlain =
    offer.surface === undefined &&
    offer.count === undefined &&
    offer.option === undefined &&
    offer.places === undefined &&
    offer.list === undefined &&
    offer.implies === undefined;
  const { slackMs, boundBy, slackMostMs } = by;
  if (!isPlain || slackMostMs !== undefined) return { ...offer, ...by };
  return { id, step, subjects, kind, dueInMs, slackMs, boundBy };
}

/** Soonest moment at which a running clock wants the hands back. */
function soonestCall(drafts: readonly Draft[]): number {
  let soonestMs = Number.POSITIVE_INFINITY;
  for (const { phase, offer } of drafts) {
    if (phase === 'go-on' && offer.dueInMs < soonestMs) soonestMs = offer.dueInMs;
  }
  return soonestMs;
}

/** A running dwell that keeps the hands on it. */
function holdsHands({ phase, step, instances }: Draft): boolean {
  return phase === 'go-on' && keepsHands(step, instances.length);
}

/**
 * Steps whose round is still being begun while its first clocks already reached their target: the
 * plan made the round so that the last is begun before the first must end. As long as that still
 * holds for the longest elapsed time, beginning goes before ending. The value is how long it holds.
 */
function stillBeginning(ranked: readonly Ranked[]): ReadonlyMap<string, number> {
  const steps = new Map<string, number>();
  for (const { draft } of ranked) {
    const { hands, id } = draft.step;
    if (draft.phase !== 'begin' || !hands) continue;
    const room: number[] = [];
    let left = 0;
    for (const { draft: other, offer } of ranked) {
      if (other.step !== draft.step || other.round !== draft.round) continue;
      if (other.phase === 'begin') left += 1;
      else room.push(orInfinity(offer.slackMs));
    }
    if (room.length === 0) continue;
    // They are ended one after the other, in the rhythm of the hands, once all are begun.
    const rinseMs = hands.rinseMs.value;
    const slackMs = Math.min(...room.sort(ascending).map((ms, at) => ms - at * rinseMs));
    const needMs = left * hands.applyMs.value;
    if (slackMs >= needMs) steps.set(id, slackMs - needMs);
  }
  return steps;
}

interface Hands {
  readonly callMs: number;
  readonly areHeld: boolean;
  readonly rounds: ReadonlyMap<string, number>;
}

const isLeft = (status: Status): boolean =>
  status === 'open' || status === 'running' || status === 'blocked';

/** Rounds of a step that are under way, by step id: the one with something running. */
function openRounds(scene: CaseNow): ReadonlyMap<string, number> {
  const open = new Map<string, number>();
  for (const [step, rounds] of scene.layout.rounds) {
    const round = rounds.find((r) => r.some((i) => isLeft(scene.statuses.of(i))));
    if (round?.[0]) open.set(step, round[0].round);
  }
  return open;
}

/** While tones lead over the teeth a press stops the light, whatever else could be done. */
const LIGHT_IS_DUE = -2;

/**
 * -1: the next of a round that is being begun as planned. 0: running and wanted now. 1: can be begun now.
 * 2: running, not wanted yet. 3: a later round, or the hands would come back too late. 4: held back by a
 * window or a rest.
 */
function tierOf(draft: Draft, hands: Hands): number {
  const { dueInMs, kind, resumes } = draft.offer;
  if (kind === 'pass-stop') return LIGHT_IS_DUE;
  // Once it was stopped, going on is what is wanted, though the tooth may have to rest first.
  if (resumes === true) return 0;
  if (draft.phase === 'go-on') return dueInMs <= 0 ? 0 : 2;
  if (dueInMs > 0) return 4;
  if (hands.areHeld || hands.rounds.get(draft.step.id) !== draft.round) return 3;
  return hands.callMs >= draft.busyMs ? 1 : 3;
}

/** After all other tiers: a step that a later press will speak for, while it is not late. */
const SPOKEN_FOR = 5;

/** How long until a step that a later press speaks for is asked for itself; null where nothing speaks for it. */
function lateInMs(scene: CaseNow, { offer, instances }: Draft, drafts: readonly Draft[]) {
  const [first] = instances;
  if (first === undefined) return null;
  const isPass = offer.kind === 'pass-confirm';
  const speakers = drafts.filter(({ implied }) =>
    isPass ? implied?.pass === true : implied?.steps.includes(first),
  );
  if (speakers.length === 0) return null;
  const usualMs = Math.max(
    ...speakers.map(({ step: by, instances: on, implied }) => {
      const spoken = new Map(implied?.steps.map((other) => [other.step.id, other.step]));
      const before = [...spoken.values()].reduce((ms, s) => ms + paceOf(s, on.length).p90Ms, 0);
      return before + paceOf(by, on.length).p90Ms;
    }),
  );
  const { lightPass } = scene.state;
  const waitedMs =
    isPass && lightPass !== null
      ? overSinceMs(lightPass, scene.now)
      : sinceKnown(scene, first).loMs;
  return usualMs - waitedMs;
}

/** Before all other tiers: a loose unit can be swallowed. */
const LOOKED_FOR = -3;

/** Whether a step is there only because a unit fell, whatever had been done to it: it is looked for. */
const isSearch = ({ onlyIf = [] }: Step, fell: ReadonlySet<string>): boolean =>
  onlyIf.length > 0 &&
  onlyIf.every((c) => 'wayBack' in c && c.voided === undefined && fell.has(c.wayBack));

const orInfinity = (ms: number | null): number => ms ?? Number.POSITIVE_INFINITY;

/** Ascending order of two numbers that may both be infinite. */
function ascending(a: number, b: number): number {
  if (a === b) return 0;
  return a < b ? -1 : 1;
}

/** Inside one step the light keeps its walk, the due go by slack, the rest by round. */
function compareInStep(a: Ranked, b: Ranked): number {
  if (/^(light|pass)-/.test(a.offer.kind)) return 0;
  if (a.tier === 0) return ascending(orInfinity(a.offer.slackMs), orInfinity(b.offer.slackMs));
  return a.draft.round - b.draft.round;
}

/** Steps are compared by their most pressing offer, so that a step's own order stays whole. */
function compare(a: Ranked, b: Ranked): number {
  if (a.tier !== b.tier) return a.tier - b.tier;
  if (a.tier === 2 || a.tier === 4) return a.offer.dueInMs - b.offer.dueInMs;
  if (a.offer.step === b.offer.step) return compareInStep(a, b);
  return ascending(a.stepSlackMs, b.stepSlackMs) || a.stepIndex - b.stepIndex;
}

/** What to do, and when that turns over by itself. */
export interface Agenda {
  /** Most urgent first. */
  readonly offers: readonly Offer[];
  /** After how much time the order may be another one, although nobody has pressed anything. */
  readonly turnsInMs: readonly number[];
}

/** A bound that is kept to the last millisecond turns the order over in the next one. */
const AFTER_MS = 1;

function turnsOf(ranked: readonly Ranked[], hands: Hands, lasting: Iterable<number>): number[] {
  const turns: number[] = [];
  const turn = (ms: number): void => {
    if (ms >= 0 && Number.isFinite(ms)) turns.push(ms + AFTER_MS);
  };
  for (const { draft, offer } of ranked) {
    turn(offer.slackMs ?? -1);
    // A call that has come stays one: it is counted from once, not again in every millisecond.
    if (draft.phase === 'begin' && offer.dueInMs <= 0 && hands.callMs > 0) {
      turn(hands.callMs - draft.busyMs);
    }
  }
  for (const ms of lasting) turn(ms);
  return turns;
}

/** Limits that can still be kept now, and no longer once the hands are back from this. */
function lostBy({ draft }: Ranked, ranked: readonly Ranked[]): Ranked[] {
  return ranked.filter(({ draft: other, offer: { slackMs } }) => {
    const isSame = other.step === draft.step && other.instances[0] === draft.instances[0];
    const isSaid =
      other.offer.kind === 'pass-confirm'
        ? draft.implied?.pass === true
        : other.instances.every((each) => draft.implied?.steps.includes(each));
    return !isSame && !isSaid && slackMs !== null && slackMs >= 0 && slackMs < draft.busyMs;
  });
}

/**
 * Nothing comes first that loses a limit which would have been kept by closing it first, at no cost to
 * any other that can still be kept. A limit that is passed already cannot be lost again.
 */
function sparing(ranked: readonly Ranked[]): readonly Ranked[] {
  const [top] = ranked;
  if (top === undefined) return ranked;
  const first = lostBy(top, ranked)
    .toSorted((a, b) => ascending(orInfinity(a.offer.slackMs), orInfinity(b.offer.slackMs)))
    .find((each) => each.offer.dueInMs <= 0 && lostBy(each, ranked).length === 0);
  if (first === undefined) return ranked;
  return [first, ...ranked.filter((each) => each !== first)];
}

/** When what comes first would begin to lose a limit. */
function sparedUntil(ranked: readonly Ranked[]): number[] {
  const busyMs = ranked[0]?.draft.busyMs ?? 0;
  const until: number[] = [];
  for (const { offer } of ranked) if (offer.slackMs !== null) until.push(offer.slackMs - busyMs);
  return until;
}

/** Every offer with what binds it and the tier it stands in. */
function rankedOf(scene: CaseNow, drafts: readonly Draft[], hands: Hands): Ranked[] {
  const latestMs = latestMoments(scene.state, scene.layout, scene.now);
  const { waysBack } = scene.layout.protocol;
  const fell = new Set(waysBack.filter((w) => w.mishap === 'unit-dropped').map(({ id }) => id));
  return drafts.map((draft) => ({
    draft,
    offer: bound(draft.offer, boundOf(scene, draft, latestMs)),
    stepIndex: draft.instances[0]?.stepIndex ?? 0,
    tier: isSearch(draft.step, fell) ? LOOKED_FOR : tierOf(draft, hands),
    stepSlackMs: Number.POSITIVE_INFINITY,
  }));
}

/** Notes with each offer how pressing its step is in its tier. */
function withStepSlack(ranked: readonly Ranked[]): void {
  for (const each of ranked) {
    for (const other of ranked) {
      if (other.tier !== each.tier || other.offer.step !== each.offer.step) continue;
      each.stepSlackMs = Math.min(each.stepSlackMs, orInfinity(other.offer.slackMs));
    }
  }
}

/** What a way back says ends now is due; room that is left is no reason to wait, and is not told. */
function endNow(ranked: readonly Ranked[], ways: readonly WayInHand[]): void {
  for (const each of ranked) {
    if (!endsNow(ways, each.draft)) continue;
    const { slackMs } = each.offer;
    const isOver = slackMs !== null && slackMs <= 0;
    each.offer = { ...each.offer, dueInMs: 0, ...(isOver ? {} : { slackMs: null, boundBy: null }) };
  }
}

/** The agenda at `scene.now`. */
export function agendaOf(scene: CaseNow): Agenda {
  const drafts = draftsOf(scene);
  const hands: Hands = {
    callMs: soonestCall(drafts),
    areHeld: drafts.some(holdsHands),
    rounds: openRounds(scene),
  };
  const ranked = rankedOf(scene, drafts, hands);
  const ways = waysInHand(scene.state, scene.layout);
  if (ways.length > 0) endNow(ranked, ways);
  const beginning = stillBeginning(ranked);
  const turns: number[] = [];
  for (const each of ranked) {
    const { draft, offer } = each;
    const isPlanned = draft.phase === 'begin' && beginning.has(offer.step);
    if (isPlanned && hands.rounds.get(offer.step) === draft.round) each.tier = -1;
    const lateMs = lateInMs(scene, draft, drafts);
    if (lateMs === null) continue;
    if (lateMs > 0) each.tier = SPOKEN_FOR;
    turns.push(lateMs);
  }
  const { lightPass } = scene.state;
  if (lightPass !== null) turns.push(UNCONFIRMED_MS - overSinceMs(lightPass, scene.now));
  withStepSlack(ranked);
  const inOrder = ranked.toSorted(compare);
  const spared = sparing(inOrder);
  const until = [...beginning.values(), ...sparedUntil(inOrder), ...turns];
  const isFree = (each: Ranked): boolean => lostBy(each, spared).length === 0;
  const answered = afterMishap(scene.layout, {
    ways,
    ranked: spared,
    isFree,
    isSearch: ({ tier }) => tier === LOOKED_FOR,
  });
  if (ways.length > 0) {
    until.push(...sparedUntil(answered), orInfinity(inOrder[0]?.offer.slackMs ?? null) - AGES_MS);
  }
  return {
    offers: answered.map((r) => r.offer),
    turnsInMs: [
      ...turnsOf(ranked, hands, until),
      ...lightTurnsInMs(scene),
      ...drafts.flatMap(({ turnsInMs = [] }) => turnsInMs),
    ],
  };
}
