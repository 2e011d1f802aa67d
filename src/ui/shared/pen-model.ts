/** Which tablet goes on with a case, and whether it is heard of. Pure. */
import { holdsPen, isFree } from '../../engine/pen.ts';
import type { AppState, RunningCase } from '../../runtime/app-state.ts';
import { isHeardNow, isLooking, tabletRow } from '../../runtime/cases/pen-hold.ts';
import { formatWords } from '../../words/duration.ts';
import { penWords } from '../../words/pen-words.ts';

type Sharing = AppState['sharing'];

/** "heard 3 s ago", by this tablet's clock. */
export function heardWords(sharing: Sharing, device: string | null, nowMs: number): string {
  const row = tabletRow(sharing, device);
  const heardMs = row?.lastContactWallMs ?? null;
  if (row?.standing === 'put-out') return penWords.putOut;
  if (heardMs === null) return isLooking(sharing, nowMs) ? penWords.looking : penWords.notHeard;
  return penWords.heard(formatWords(Math.max(0, nowMs - heardMs)));
}

/** The same as a sentence; null where there is none to say. */
function heardSentence(sharing: Sharing, device: string | null, nowMs: number): string | null {
  const row = tabletRow(sharing, device);
  const heardMs = row?.lastContactWallMs ?? null;
  if (heardMs === null) return row?.standing === 'put-out' ? null : penWords.neverHeard;
  return penWords.lastHeard(formatWords(Math.max(0, nowMs - heardMs)));
}

/** The name of a tablet as the clinic gave it, else as the case says it. */
export function tabletName(sharing: Sharing, device: string | null, said?: string | null): string {
  return tabletRow(sharing, device)?.name || said || penWords.unnamed;
}

/** Whether another tablet writes the case on the chair. */
export const isOnOther = (running: RunningCase, tablet: string): boolean =>
  running.isViewOnly && !holdsPen(running.log.state.pen, tablet);

/** What may be done here about a case that another tablet has. */
export interface PenModel {
  readonly name: string;
  /** Whose it is, in one line. */
  readonly words: string;
  readonly advice: string;
  /** One press takes it; a reason is asked for first; nothing while the tablet is heard of, or looked for. */
  readonly take: 'at-once' | 'with-reason' | null;
  readonly takeWords: string;
}

const WHOSE = {
  held: (name: string) => penWords.at(name),
  'looked-for': (name: string) => penWords.lookingFor(name),
  'put-out': (name: string) => penWords.putOutAt(name),
  silent: (name: string) => penWords.silentAt(name),
} as const;

function wordsOf(o: {
  readonly state: RunningCase['log']['state'];
  readonly tablet: string;
  readonly name: string;
  readonly to: string;
  readonly how: 'held' | 'looked-for' | 'put-out' | 'silent';
}): string {
  const { state, tablet, name, to, how } = o;
  const { pen, closed } = state;
  const isOwn = pen.holder === tablet;
  if (closed !== null) return penWords.closedAt(name);
  if (pen.given === null) return WHOSE[how](name);
  if (pen.given.to === null) return isOwn ? penWords.gaveUpAny : penWords.givenAny(name);
  if (pen.given.to === tablet) return penWords.givenHere(name);
  return isOwn ? penWords.gaveUp(to) : penWords.givenOther({ name, to });
}

export function penModel(
  running: RunningCase,
  o: { readonly tablet: string; readonly sharing: Sharing; readonly nowMs: number },
): PenModel {
  const { tablet, sharing, nowMs } = o;
  const { state } = running.log;
  const { pen, closed } = state;
  const name = tabletName(sharing, pen.holder, pen.name);
  const to = tabletName(sharing, pen.given?.to ?? null, pen.given?.toName);
  const isHeard = (device: string | null) => isHeardNow(tabletRow(sharing, device), nowMs);
  const isHeld = isHeard(pen.holder) || isHeard(pen.given?.to ?? null);
  const isOwn = pen.holder === tablet;
  const isOut = tabletRow(sharing, pen.holder)?.standing === 'put-out';
  const isLookedFor = !isHeld && !isOut && isLooking(sharing, nowMs);
  const how = isHeld ? 'held' : isOut ? 'put-out' : isLookedFor ? 'looked-for' : 'silent';
  const words = wordsOf({ state, tablet, name, to, how });
  const said = isOwn || isLookedFor ? null : heardSentence(sharing, pen.holder, nowMs);
  const heard = said === null ? [] : [said];
  const still = running.isStale && closed === null ? [penWords.standsStill] : [];
  const about = { name, words, advice: [...heard, ...still].join(' ') };
  // A signed case is taken by whatever is added to it.
  if (closed !== null) return { ...about, take: null, takeWords: '' };
  if (isFree(state, tablet) !== null) {
    return { ...about, take: 'at-once', takeWords: isOwn ? penWords.takeBack : penWords.take };
  }
  if (isHeld || isLookedFor) return { ...about, take: null, takeWords: '' };
  return { ...about, take: 'with-reason', takeWords: penWords.takeOver };
}
