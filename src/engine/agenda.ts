/**
 * What to do now, best first. What is due comes before what can wait; among the due, the one with
 * the least slack. A new thing is begun only if the hands are back before a running clock wants
 * them, or if the round was planned that way. Times in ms.
 */
import { elapsed, finiteHiMs } from './axis.ts';
import { keepsHands, usualPaceMs } from './case-bounds.ts';
import { edgeInstant } from './edge-instant.ts';
import { lightTurnsInMs } from './light-offers.ts';
import { latestOf, solveCase } from './network.ts';
import type { CaseNow, Draft } from './offer-draft.ts';
import { draftsOf } from './offers.ts';
import type { Offer } from './view-types.ts';
import { windowMaxMs } from './window-bounds.ts';

interface Bound {
  readonly slackMs: number | null;
  readonly boundBy: string | null;
}

/** What binds an offer directly: the step's own maximum, or a window that it would close. */
function directBounds(scene: CaseNow, draft: Draft): { slackMs: number; boundBy: string }[] {
  return draft.instances.flatMap((instance) => {
    const found: { slackMs: number; boundBy: string }[] = [];
    const { action } = instance.step;
    const run = scene.state.runs[instance.key];
    if (action.kind === 'dwell' && action.maxMs && run?.startedAt && !run.endedAt) {
      const slackMs = action.maxMs.value - elapsed(run.startedAt, scene.now).hiMs;
      found.push({ slackMs, boundBy: instance.step.id });
    }
    for (const pair of scene.layout.windowsTo.get(instance.key) ?? []) {
      const { window, from } = pair;
      const since = edgeInstant(scene.state.runs[from], window.from.edge);
      const maxMs = windowMaxMs(scene.state, pair);
      const isClosed = edgeInstant(run, window.to.edge) !== null;
      if (!since || isClosed || maxMs === undefined) continue;
      const slackMs = maxMs - elapsed(since, scene.now).hiMs;
      found.push({ slackMs, boundBy: window.id });
    }
    return found;
  });
}

type Latest = (key: string, edge: 'start' | 'end') => number;

function boundOf(scene: CaseNow, draft: Draft, latest: Latest): Bound {
  // Light goes on again on a unit whose exposure has begun: then only its end is still to come.
  const edgeOf = (key: string) =>
    draft.phase === 'begin' && !scene.state.runs[key]?.startedAt ? 'start' : 'end';
  const chained = draft.instances.map((i) => latest(i.key, edgeOf(i.key)) - finiteHiMs(scene.now));
  const direct = directBounds(scene, draft);
  const least = direct.reduce<Bound>(
    (best, b) => (best.slackMs === null || b.slackMs < best.slackMs ? b : best),
    { slackMs: null, boundBy: null },
  );
  const chain = Math.min(Number.POSITIVE_INFINITY, ...chained.filter((ms) => !Number.isNaN(ms)));
  if (least.slackMs !== null && least.slackMs <= chain) return least;
  return { slackMs: Number.isFinite(chain) ? chain : null, boundBy: null };
}

interface Ranked {
  readonly draft: Draft;
  readonly offer: Offer;
  readonly tier: number;
  readonly stepIndex: number;
}

/** Soonest moment at which a running clock wants the hands back. */
function soonestCall(drafts: readonly Draft[]): number {
  const calls = drafts.filter((d) => d.phase === 'go-on').map((d) => d.offer.dueInMs);
  return Math.min(Number.POSITIVE_INFINITY, ...calls);
}

/** A running dwell that keeps the hands on it. */
function holdsHands({ phase, step, instances }: Draft): boolean {
  return phase === 'go-on' && keepsHands(step, usualPaceMs(step, instances.length));
}

/**
 * Steps whose round is still being begun while its first clocks already reached their target: the
 * plan made the round so that the last is begun before the first must end. As long as that still
 * holds for the longest elapsed time, beginning goes before ending. The value is how long it holds.
 */
function stillBeginning(ranked: readonly Ranked[]): ReadonlyMap<string, number> {
  const steps = new Map<string, number>();
  for (const { draft } of ranked) {
    if (draft.phase !== 'begin' || !draft.step.hands) continue;
    const same = ranked.filter((r) => r.draft.step === draft.step);
    const left = same.filter((r) => r.draft.phase === 'begin' && r.draft.round === draft.round);
    const needMs = left.length * draft.step.hands.applyMs.value;
    const running = same.filter((r) => r.draft.phase === 'go-on' && r.draft.round === draft.round);
    // They are ended one after the other, in the rhythm of the hands, once all are begun.
    const rinseMs = draft.step.hands.rinseMs.value;
    const room = running
      .map((r) => orInfinity(r.offer.slackMs))
      .toSorted(ascending)
      .map((slackMs, at) => slackMs - at * rinseMs);
    const slackMs = Math.min(...room);
    if (running.length > 0 && slackMs >= needMs) steps.set(draft.step.id, slackMs - needMs);
  }
  return steps;
}

interface Hands {
  readonly callMs: number;
  readonly areHeld: boolean;
  readonly rounds: ReadonlyMap<string, number>;
}

/** Rounds of a step that are under way, by step id: the one with something running. */
function openRounds(scene: CaseNow): ReadonlyMap<string, number> {
  const open = new Map<string, number>();
  for (const [step, rounds] of scene.layout.rounds) {
    const round = rounds.find((r) =>
      r.some((i) => ['blocked', 'open', 'running'].includes(scene.statuses.of(i))),
    );
    if (round?.[0]) open.set(step, round[0].round);
  }
  return open;
}

/**
 * -1: the next of a round that is being begun as planned. 0: running and wanted now. 1: can be begun now. 2: running, not wanted yet. 3: a later round, or
 * the hands would come back too late. 4: held back by a window or a rest.
 */
function tierOf(draft: Draft, hands: Hands): number {
  const { dueInMs } = draft.offer;
  if (draft.phase === 'go-on') return dueInMs <= 0 ? 0 : 2;
  if (dueInMs > 0) return 4;
  if (hands.areHeld || hands.rounds.get(draft.step.id) !== draft.round) return 3;
  return hands.callMs >= draft.busyMs ? 1 : 3;
}

const orInfinity = (ms: number | null): number => ms ?? Number.POSITIVE_INFINITY;

/** Ascending order of two numbers that may both be infinite. */
function ascending(a: number, b: number): number {
  if (a === b) return 0;
  return a < b ? -1 : 1;
}

/** Inside one step the light keeps its walk, the due go by slack, the rest by round. */
function compareInStep(a: Ranked, b: Ranked): number {
  if (a.offer.kind.startsWith('light')) return 0;
  if (a.tier === 0) return ascending(orInfinity(a.offer.slackMs), orInfinity(b.offer.slackMs));
  return a.draft.round - b.draft.round;
}

/** Steps are compared by their most pressing offer, so that a step's own order stays whole. */
function compare(a: Ranked, b: Ranked, stepSlack: ReadonlyMap<string, number>): number {
  if (a.tier !== b.tier) return a.tier - b.tier;
  if (a.tier === 2 || a.tier === 4) return a.offer.dueInMs - b.offer.dueInMs;
  if (a.offer.step === b.offer.step) return compareInStep(a, b);
  const slackA = orInfinity(stepSlack.get(`${a.tier} ${a.offer.step}`) ?? null);
  const slackB = orInfinity(stepSlack.get(`${b.tier} ${b.offer.step}`) ?? null);
  return ascending(slackA, slackB) || a.stepIndex - b.stepIndex;
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
  const lost = ranked.flatMap(({ draft, offer }) => {
    const turns = [offer.slackMs ?? -1];
    // A call that has come stays one: it is counted from once, not again in every millisecond.
    if (draft.phase === 'begin' && offer.dueInMs <= 0 && hands.callMs > 0) {
      turns.push(hands.callMs - draft.busyMs);
    }
    return turns;
  });
  return [...lost, ...lasting]
    .filter((ms) => ms >= 0 && Number.isFinite(ms))
    .map((ms) => ms + AFTER_MS);
}

/** Limits that can still be kept now, and no longer once the hands are back from this. */
function lostBy({ draft }: Ranked, ranked: readonly Ranked[]): Ranked[] {
  return ranked.filter(({ draft: other, offer: { slackMs } }) => {
    const isSame = other.step === draft.step && other.instances[0] === draft.instances[0];
    return !isSame && slackMs !== null && slackMs >= 0 && slackMs < draft.busyMs;
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
  return ranked.flatMap(({ offer: { slackMs } }) => (slackMs === null ? [] : [slackMs - busyMs]));
}

/** The agenda at `scene.now`. */
export function agendaOf(scene: CaseNow): Agenda {
  const drafts = draftsOf(scene);
  const solution = solveCase(scene.state, scene.layout, scene.now);
  const latest: Latest = (key, edge) => latestOf(solution, { key, edge });
  const hands: Hands = {
    callMs: soonestCall(drafts),
    areHeld: drafts.some(holdsHands),
    rounds: openRounds(scene),
  };
  const drawn = drafts.map<Ranked>((draft) => ({
    draft,
    offer: { ...draft.offer, ...boundOf(scene, draft, latest) },
    tier: tierOf(draft, hands),
    stepIndex: draft.instances[0]?.stepIndex ?? 0,
  }));
  const beginning = stillBeginning(drawn);
  const ranked = drawn.map<Ranked>((r) => {
    const isPlanned = beginning.has(r.offer.step) && r.draft.phase === 'begin';
    return isPlanned && hands.rounds.get(r.offer.step) === r.draft.round ? { ...r, tier: -1 } : r;
  });
  const stepSlack = new Map<string, number>();
  for (const { offer, tier } of ranked) {
    const key = `${tier} ${offer.step}`;
    const before = stepSlack.get(key) ?? Number.POSITIVE_INFINITY;
    stepSlack.set(key, Math.min(before, orInfinity(offer.slackMs)));
  }
  const inOrder = ranked.toSorted((a, b) => compare(a, b, stepSlack));
  const until = [...beginning.values(), ...sparedUntil(inOrder)];
  return {
    offers: sparing(inOrder).map((r) => r.offer),
    turnsInMs: [...turnsOf(drawn, hands, until), ...lightTurnsInMs(scene)],
  };
}
