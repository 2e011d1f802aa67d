/**
 * What is in hand and what is watched: one pure reading of the picture, from which the chair, the far
 * view, the voice and the second window take their words. Times in ms.
 */
import { commandOf } from './at-once.ts';
import type { Command } from './commands.ts';
import type { Layout } from './layout.ts';
import { mixWindows } from './mix-windows.ts';
import type { AtOnce, Attention, Clock, Offer } from './view-types.ts';

/** The room before the limit, judged by the longest time that may have passed. */
export function roomMs(clock: Clock): number {
  return clock.maxMs === null ? Number.POSITIVE_INFINITY : clock.maxMs - clock.elapsed.hiMs;
}

/** A note is written down, no harm comes of it; without an upper limit waiting does none either. */
const canHarm = (clock: Clock): boolean => clock.maxMs !== null && clock.severity !== 'note';

/** Past its target and without an upper limit: it may go on for as long as it likes. */
function isAtRest({ kind, maxMs, targetMs, elapsed }: Clock): boolean {
  return kind !== 'exposure' && maxMs === null && targetMs !== null && elapsed.loMs >= targetMs;
}

function belongsTo(clock: Clock, offer: Offer): boolean {
  if (clock.paced === true) return offer.kind === 'pass-stop' && clock.of === offer.step;
  if (clock.kind !== 'dwell' && clock.kind !== 'exposure') return false;
  // The light that moves on is another tooth's, or another place: its clock is not of this press.
  if (offer.kind === 'light-move' || offer.kind === 'light-on') return false;
  return clock.of === offer.step && clock.subjects.some((s) => offer.subjects.includes(s));
}

const ascending = (a: number, b: number): number => (a === b ? 0 : a - b);

interface Picture {
  readonly asked: AtOnce | null;
  readonly offers: readonly Offer[];
  readonly clocks: readonly Clock[];
  /** Ids of the cues that somebody has acknowledged. */
  readonly acknowledged: Readonly<Record<string, true>>;
}

/**
 * Over a limit comes first, the longest over before the rest; once that has been acknowledged, a limit that
 * can still be kept comes before it.
 */
function watchedOf({ clocks, acknowledged }: Picture): Clock | null {
  const isSeen = (clock: Clock) =>
    acknowledged[`${clock.id}/over`] === true || acknowledged[`${clock.id}/window-broken`] === true;
  const isKnown = (clock: Clock) => roomMs(clock) < 0 && isSeen(clock);
  const harmful = clocks.filter(canHarm);
  const [first] = harmful.toSorted(
    (a, b) => Number(isKnown(a)) - Number(isKnown(b)) || ascending(roomMs(a), roomMs(b)),
  );
  return first ?? null;
}

/** The working time of the mix that ends first. */
function workingOf(layout: Layout, clocks: readonly Clock[]): Clock | null {
  const ofMixes = new Set(mixWindows(layout).map(({ window }) => window.id));
  const [first] = clocks
    .filter((c) => c.maxMs !== null && ofMixes.has(c.of))
    .toSorted((a, b) => ascending(roomMs(a), roomMs(b)));
  return first ?? null;
}

/** What is left until the target, by the shortest time that may have passed. */
const toTargetMs = ({ targetMs, elapsed }: Clock): number => (targetMs ?? 0) - elapsed.loMs;

/** The last of several that began apart: a press for all of them is due with it. */
function ownOf(clocks: readonly Clock[], inHand: Offer | null): Clock | null {
  if (inHand === null) return null;
  const mine = clocks.filter((clock) => belongsTo(clock, inHand) && !isAtRest(clock));
  const [last] = mine.toSorted(
    (a, b) => ascending(roomMs(a), roomMs(b)) || toTargetMs(b) - toTargetMs(a),
  );
  return last ?? null;
}

/** A hold that nobody can shorten and that asks for nothing yet: a warm-up, a day of rest. */
const isLongHold = (clock: Clock): boolean => clock.kind === 'hold' && clock.maxMs === null;

/** What is in hand and what is watched in one picture. */
export function attentionOf(layout: Layout, picture: Picture): Attention {
  const { asked } = picture;
  const [first] = asked?.ways ?? [];
  const inHand = first?.kind === 'way-back' ? null : (picture.offers[0] ?? null);
  const own = ownOf(picture.clocks, inHand);
  const watched = watchedOf(picture);
  const working = workingOf(layout, picture.clocks);
  const large = [own, watched, working];
  const quiet = picture.clocks
    .filter((clock) => !large.includes(clock) && !(working !== null && isLongHold(clock)))
    .toSorted((a, b) => ascending(roomMs(a), roomMs(b)) || toTargetMs(a) - toTargetMs(b));
  return { asked, inHand, own, watched, working, quiet };
}

/** What a press of the bar does, named so that a turn of the bar can be told. Null where nothing is to be done. */
export function barAct({ asked, inHand }: Attention): { id: string; command: Command } | null {
  const [way] = asked?.ways ?? [];
  if (way?.kind === 'way-back')
    return { id: `back ${way.wayBack.id} ${way.subjects.join(' ')}`, command: commandOf(way) };
  return inHand === null ? null : { id: inHand.id, command: { do: 'press', offer: inHand } };
}
