/**
 * What is one tap away: what is likely to have gone wrong; while cement is out also the sample bead and
 * the next two units the other way round. Pure; times in ms.
 */
import { elapsed } from '../../engine/axis.ts';
import { edgeInstant } from '../../engine/edge-instant.ts';
import { layoutOf } from '../../engine/layout.ts';
import { likelyMishaps } from '../../engine/likely-mishaps.ts';
import { waysBackOffered } from '../../engine/way-back-asked.ts';
import { waysInHand } from '../../engine/way-in-hand.ts';
import type { WayBackOffer } from '../../engine/ways-back.ts';
import { bareId, unitSubject } from '../../protocol/subjects.ts';
import type { RunningCase } from '../../runtime/app-state.ts';
import { openMixes } from './chair-model.ts';

/** How often the bead is probed. Common practice, no source. */
export const PROBE_EVERY_MS = 60_000;

export interface BeadAtHand {
  readonly mix: string;
  /** Since it was last probed, or since the mix was made. */
  readonly sinceMs: number;
  readonly isProbed: boolean;
  readonly isDue: boolean;
}

/** The next two units of one mix, neither of them loaded. */
interface Swap {
  readonly first: string;
  readonly second: string;
}

export interface AtHand {
  /** Cement is out, and light is not asked for yet. */
  readonly isCement: boolean;
  readonly beads: readonly BeadAtHand[];
  /** The likeliest of what may have gone wrong, at most two. */
  readonly mishaps: readonly WayBackOffer[];
  readonly swap: Swap | null;
}

function beadsOf(running: RunningCase): readonly BeadAtHand[] {
  const { state } = running.log;
  const { instances, subjects } = layoutOf(state);
  return openMixes(running).flatMap((mix): BeadAtHand[] => {
    const ends = instances
      .filter((i) => i.subject === mix)
      .flatMap((i) => edgeInstant(state.runs[i.key], 'end') ?? []);
    const made = ends.toSorted((a, b) => a.loMs - b.loMs)[0];
    // A bead of a mix that was thrown away says nothing about the one that took its place.
    const probed = (state.beads[mix] ?? []).findLast((bead) => !made || bead.at.loMs >= made.loMs);
    const since = probed?.at ?? made;
    // While the bar asks for something of this portion itself, its bead is not down yet.
    const isInHand = running.view.attention.inHand?.subjects.includes(mix) ?? false;
    const isBeingMade =
      isInHand && !subjects.linked(mix, 'unit').some((u) => isLoaded(running, bareId(u)));
    if (since === undefined || isBeingMade || probed?.found === 'firm') return [];
    const sinceMs = elapsed(since, running.view.at).hiMs;
    return [{ mix, sinceMs, isProbed: probed !== undefined, isDue: sinceMs >= PROBE_EVERY_MS }];
  });
}

/** The unit in hand: the one that the bar is about, else the one that was loaded or seated last. */
function unitInHand(running: RunningCase): string | null {
  const { state } = running.log;
  const { subjects } = layoutOf(state);
  const top = running.view.attention.inHand?.subjects[0];
  if (top !== undefined && top !== 'case') {
    const own = subjects.linked(top, 'unit');
    if (own.length === 1) return own[0] ?? null;
  }
  const last = running.log.records.findLast(
    ({ event }) => event.type === 'step-confirmed' && event.subjects[0]?.startsWith('unit:'),
  )?.event;
  return last?.type === 'step-confirmed' && last.subjects.length === 1
    ? (last.subjects[0] ?? null)
    : null;
}

const isUnderLight = (running: RunningCase): boolean =>
  running.view.attention.inHand?.kind.startsWith('light') ?? false;

/** While cement is out the unit that was last in the hand, else what is likely for what the bar says. */
function mishapsOf(running: RunningCase): readonly WayBackOffer[] {
  const { state } = running.log;
  const layout = layoutOf(state);
  const isCement = openMixes(running).length > 0 && !isUnderLight(running);
  const unit = isCement ? unitInHand(running) : null;
  const ways = waysInHand(state, layout);
  const ofUnit = waysBackOffered(state, layout).flatMap(({ wayBack, subjects }): WayBackOffer[] => {
    const { mishap, per } = wayBack;
    const isOfUnit = mishap === 'unit-will-not-seat' || mishap === 'unit-dropped';
    if (unit === null || per !== 'unit' || !isOfUnit || !subjects.includes(unit)) return [];
    // What is being put right has happened: it is not offered again.
    const isInWork = ways.some((way) => way.wayBack === wayBack && way.subjects.includes(unit));
    if (isInWork) return [];
    return [{ wayBack, subjects: [unit] }];
  });
  if (ofUnit.length > 0) return ofUnit;
  return likelyMishaps(state, layout, running.view.attention.inHand);
}

type Logged = Pick<RunningCase, 'log'>;

/** A unit is loaded, or set aside, once what is read back before its loading was pressed. */
function isLoaded({ log: { state } }: Logged, unit: string): boolean {
  return layoutOf(state).instances.some(
    ({ subject, step, key }) =>
      subject === unitSubject(unit) &&
      step.action.kind === 'confirm' &&
      step.action.evidence?.kind === 'read-back' &&
      state.runs[key] !== undefined,
  );
}

/** Still to be loaded, from cement that others are seated with. */
export function sharesMix(running: Logged, unit: string): boolean {
  const { mixes } = running.log.state.plan;
  return mixes.some((m) => m.includes(unit) && m.length > 1) && !isLoaded(running, unit);
}

/** Whether all that was done to the first was done to the second too: one that is late is not put before. */
function isAsFar({ log: { state } }: Logged, { first, second }: Swap): boolean {
  const { instances } = layoutOf(state);
  const stepsOf = (unit: string) =>
    instances.filter((i) => i.subject === unitSubject(unit)).map((i) => i.step.id);
  const own = new Set(stepsOf(second));
  return stepsOf(first)
    .filter((step) => own.has(step) && state.runs[`${step}@${unitSubject(first)}`] !== undefined)
    .every((step) => state.runs[`${step}@${unitSubject(second)}`] !== undefined);
}

function swapOf(running: RunningCase): Swap | null {
  const { order, mixes } = running.log.state.plan;
  const [first, second] = order.filter((unit) => !isLoaded(running, unit));
  if (first === undefined || second === undefined) return null;
  const isOneMix = mixes.some((mix) => mix.includes(first) && mix.includes(second));
  return isOneMix && isAsFar(running, { first, second }) ? { first, second } : null;
}

/** Nothing is at hand while nothing can have gone wrong; beads and the order only while cement is out. */
export function atHand(running: RunningCase): AtHand | null {
  if (running.log.state.closed) return null;
  const isCement = !isUnderLight(running) && openMixes(running).length > 0;
  const { state } = running.log;
  const mishaps = mishapsOf(running);
  const isNothing = mishaps.length === 0 && waysBackOffered(state, layoutOf(state)).length === 0;
  if (!isCement && isNothing) return null;
  return {
    isCement,
    beads: isCement ? beadsOf(running) : [],
    mishaps,
    swap: isCement ? swapOf(running) : null,
  };
}
