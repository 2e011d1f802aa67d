/**
 * The whole picture at one instant: offers, clocks, cues, progress, and when it changes next. A
 * pure function of the state and of what the device's clocks say now.
 */
import { type Agenda, agendaOf } from './agenda.ts';
import { answersNow } from './at-once.ts';
import { attentionOf } from './attention.ts';
import { place } from './axis.ts';
import { clocksOf } from './clocks.ts';
import { cuesOf } from './cues.ts';
import { type Layout, layoutOf } from './layout.ts';
import { passNow } from './light-pass.ts';
import { progressOf } from './progress.ts';
import { StatusReader } from './status.ts';
import type { CaseInstant, CaseState, Stamp } from './types.ts';
import type { AtOnce, Attention, Clock, Cue, LightPassNow, Offer, View } from './view-types.ts';

const readers = new WeakMap<CaseState, { layout: Layout; statuses: StatusReader }>();

/** The layout of a state with a reader of its statuses; the same for the same state. */
export function readerOf(state: CaseState): { layout: Layout; statuses: StatusReader } {
  const hit = readers.get(state);
  if (hit) return hit;
  const layout = layoutOf(state);
  const made = { layout, statuses: new StatusReader(state, layout) };
  readers.set(state, made);
  return made;
}

/** Where `now` lies on the case axis. */
export function nowOf(state: CaseState, now: Stamp): CaseInstant {
  return place(state.anchor, now).at;
}

/** Soonest of all future dues; null when nothing changes by itself. */
function nextChange(o: {
  readonly cues: readonly Cue[];
  readonly agenda: Agenda;
  readonly clocks: readonly Clock[];
  readonly pass: LightPassNow | null;
}) {
  const { cues, agenda, clocks, pass } = o;
  let soonestMs = Number.POSITIVE_INFINITY;
  const due = (ms: number): void => {
    if (ms > 0 && ms < soonestMs) soonestMs = ms;
  };
  for (const cue of cues) due(cue.dueInMs);
  for (const offer of agenda.offers) due(offer.dueInMs);
  for (const ms of agenda.turnsInMs) due(ms);
  for (const { startsInMs, endsInMs } of pass?.places ?? []) {
    if (pass?.isStopped) break;
    due(startsInMs);
    due(endsInMs);
  }
  for (const { minMs, maxMs, elapsed } of clocks) {
    due((minMs ?? 0) - elapsed.loMs);
    due((maxMs ?? 0) - elapsed.loMs);
  }
  return soonestMs === Number.POSITIVE_INFINITY ? null : soonestMs;
}

/** How many steps apply, and how many of them are over. */
function countOf(layout: Layout, statuses: StatusReader): { done: number; total: number } {
  let done = 0;
  let total = 0;
  for (const instance of layout.instances) {
    const status = statuses.of(instance);
    if (status === 'not-applicable') continue;
    total += 1;
    if (status === 'done' || status === 'skipped') done += 1;
  }
  return { done, total };
}

const NOTHING_TO_DO: Agenda = { offers: [], turnsInMs: [] };

/** What goes on comes first while it is the likeliest answer to what must be answered. */
function askedFirst(offers: readonly Offer[], asked: AtOnce | null): readonly Offer[] {
  const [way] = asked?.ways ?? [];
  if (way?.kind !== 'go-on') return offers;
  return [way.offer, ...offers.filter((offer) => offer !== way.offer)];
}

/** Of a pass of light the place to which its tones lead is the one in hand. */
function pointedAt({ inHand, own }: Attention): Offer | null {
  return inHand && own?.paced === true ? { ...inHand, subjects: own.subjects } : inHand;
}

/** Everything a screen needs at `now`. */
export function viewOf(state: CaseState, now: Stamp): View {
  const { layout, statuses } = readerOf(state);
  const at = nowOf(state, now);
  const scene = { state, layout, statuses, now: at };
  const agenda = state.closed ? NOTHING_TO_DO : agendaOf(scene);
  const [asked = null] = answersNow({ state, layout, now: at, offers: agenda.offers });
  const offers = askedFirst(agenda.offers, asked);
  const clocks = clocksOf(state, layout, statuses, at);
  const pass = passNow(state.lightPass, at);
  const cues = cuesOf(state, clocks);
  const { acknowledged } = state;
  const attention = attentionOf(layout, { asked, offers, clocks, acknowledged });
  const { done, total } = countOf(layout, statuses);
  return {
    at,
    offers,
    clocks,
    attention,
    cues,
    pass,
    teeth: progressOf(scene, pointedAt(attention)),
    done,
    total,
    amber: clocks.some((c) => c.amber),
    nextChangeInMs: nextChange({ cues, agenda, clocks, pass }),
    finished: done === total,
  };
}
