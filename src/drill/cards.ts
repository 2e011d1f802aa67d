/**
 * Which cards of a drill were shown in a run, and when: a fold of its log. A card is shown so long after its
 * moment, if its way back still fits; where the work was past it by then, it never comes. Cards are 20 s apart.
 */
import { place } from '../engine/axis.ts';
import { edgeInstant } from '../engine/edge-instant.ts';
import { layoutOf } from '../engine/layout.ts';
import { type CaseLog, extend } from '../engine/log.ts';
import type { CaseState, Recorded } from '../engine/types.ts';
import { type WayBackOffer, waysBackNow } from '../engine/ways-back.ts';
import { APART_MS } from './draw.ts';
import type { DrillCard, DrillPlan, MishapCard, ShownCard } from './drill-types.ts';
import { canBeSeen } from './quiet.ts';

/**
 * Ways back that a card calls for in a state, each with those of its subjects that it fits. What happens to the
 * patient happens to everything at that stage.
 */
export function waysFor(state: CaseState, card: MishapCard): readonly WayBackOffer[] {
  const offered = waysBackNow(state, layoutOf(state), card.mishap);
  if (card.mishap === 'patient-must-rinse') return offered;
  return offered.flatMap(({ wayBack, subjects }) => {
    const own = card.subjects.filter((s) => subjects.includes(s));
    return own.length === 0 ? [] : [{ wayBack, subjects: own }];
  });
}

/** Whether the card calls for something that fits now; what calls for nothing always does. */
export const fitsNow = (state: CaseState, card: DrillCard): boolean =>
  card.kind !== 'mishap' || waysFor(state, card).length > 0;

/** When the card would come if nothing stood in its way; null before its moment. */
function dueAtMs({ runs }: CaseState, { from, afterMs }: DrillCard): number | null {
  const at = edgeInstant(runs[from.key], from.edge);
  return at === null ? null : at.loMs + afterMs;
}

/** A state and the time in which it held, from the press that made it to the next one. */
export interface Stretch {
  readonly state: CaseState;
  readonly fromMs: number;
  /** Infinity for the last one. */
  readonly untilMs: number;
}

/** The records of each press, in the order in which they were made. */
export function byPress(records: readonly Recorded[]): readonly (readonly Recorded[])[] {
  const presses = new Map<number, Recorded[]>();
  for (const record of records) {
    const own = presses.get(record.press);
    if (own === undefined) presses.set(record.press, [record]);
    else own.push(record);
  }
  return [...presses.values()];
}

/** The states of a run one after the other, as they stood then: what was taken back later had happened. */
export function stretchesOf(
  { records }: Pick<CaseLog, 'records'>,
  firstPress = 0,
): readonly Stretch[] {
  const found: { readonly state: CaseState; readonly fromMs: number }[] = [];
  let log: CaseLog | null = null;
  for (const batch of byPress(records)) {
    log = extend(log, batch);
    const { state } = log;
    // Where the press lies that made it, by the clocks of then.
    found.push({ state, fromMs: place(state.anchor, state.anchor.latest).at.loMs });
  }
  return found.flatMap((each, i) => {
    const untilMs = found[i + 1]?.fromMs ?? Number.POSITIVE_INFINITY;
    return i < firstPress ? [] : [{ ...each, untilMs }];
  });
}

/** The cards of a plan as they stand `nowMs` after the opening, in the order in which they came. */
export function cardsShown(
  stretches: readonly Stretch[],
  plan: DrillPlan,
  nowMs: number,
): readonly ShownCard[] {
  const shown = new Map<string, number>();
  let freeMs = Number.NEGATIVE_INFINITY;
  for (const { state, fromMs, untilMs } of stretches) {
    for (;;) {
      const next = nextIn(state, plan, shown, Math.max(fromMs, freeMs));
      // What is answered in the same instant was seen in it.
      if (next === null || next.atMs > Math.min(untilMs, nowMs)) break;
      shown.set(next.card.id, next.atMs);
      freeMs = next.atMs + APART_MS;
    }
    if (untilMs > nowMs) break;
  }
  const order = (id: string): number => shown.get(id) ?? Number.POSITIVE_INFINITY;
  return plan.cards
    .map((card) => ({ card, shownAtMs: shown.get(card.id) ?? null }))
    .toSorted((a, b) => order(a.card.id) - order(b.card.id));
}

/** The card that comes next while a state holds, not before `leastMs`; null when none does. */
function nextIn(
  state: CaseState,
  plan: DrillPlan,
  shown: ReadonlyMap<string, number>,
  leastMs: number,
): { readonly card: DrillCard; readonly atMs: number } | null {
  let best: { readonly card: DrillCard; readonly atMs: number } | null = null;
  for (const card of plan.cards) {
    if (shown.has(card.id)) continue;
    const due = dueAtMs(state, card);
    if (due === null || !fitsNow(state, card) || !canBeSeen(state, card)) continue;
    const atMs = Math.max(due, leastMs);
    if (best === null || atMs < best.atMs) best = { card, atMs };
  }
  return best;
}

/** In how many ms the next card comes if nothing is pressed; null when none does. */
export function nextCardInMs(
  stretches: readonly Stretch[],
  plan: DrillPlan,
  nowMs: number,
): number | null {
  const last = stretches.at(-1);
  if (last === undefined) return null;
  const sofar = cardsShown(stretches, plan, nowMs);
  const shown = new Map(
    sofar.flatMap((s) => (s.shownAtMs === null ? [] : [[s.card.id, s.shownAtMs]])),
  );
  const freeMs = Math.max(nowMs, ...[...shown.values()].map((ms) => ms + APART_MS));
  const next = nextIn(last.state, plan, shown, freeMs);
  return next === null ? null : Math.max(0, next.atMs - nowMs);
}

/** There is at least so much time after a card, and a drill takes no longer than this. */
const AFTER_CARD_MS = 120_000;
const LONGEST_MS = 600_000;

/** When a drill that began at `beganAtMs` is over, as far as its cards came; they come no later. */
export function drillEndMs(
  shown: readonly ShownCard[],
  { lastsMs }: DrillPlan,
  beganAtMs: number,
): number {
  const last = Math.max(0, ...shown.map(({ shownAtMs }) => shownAtMs ?? 0));
  const wanted = Math.max(beganAtMs + lastsMs, last + AFTER_CARD_MS);
  return Math.min(beganAtMs + LONGEST_MS, wanted);
}
