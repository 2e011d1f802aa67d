/** The ideal run of a drill: what is seen is answered at once by what fits it, and all else at the usual pace. */
import type { CaseLog } from '../engine/log.ts';
import { cardsShown, drillEndMs, type Stretch, waysFor } from './cards.ts';
import type { DrillCard, DrillPlan, MishapCard, ShownCard } from './drill-types.ts';
import { type DrillCase, Hands } from './hands.ts';

export interface IdealRun {
  readonly log: CaseLog;
  readonly shown: readonly ShownCard[];
  /** Presses after the drill began. */
  readonly presses: number;
  readonly beganAtMs: number;
  readonly endedAtMs: number;
}

/** Takes the way back that fits a card: that of the card where it still does, else the first; false where it is refused. */
function answer(hands: Hands, card: MishapCard): boolean {
  const fitting = waysFor(hands.log.state, card);
  const way = fitting.find(({ wayBack }) => wayBack.id === card.wayBack) ?? fitting[0];
  if (way === undefined) return false;
  const { mishap, sight: reason } = card;
  const { wayBack, subjects } = way;
  return hands.do({ do: 'take-way-back', wayBack: wayBack.id, mishap, subjects, reason });
}

/** Plays a drill as nobody could do it better. */
export function idealRun(drilled: DrillCase, plan: DrillPlan): IdealRun {
  const hands = new Hands(drilled);
  const stretches: Stretch[] = [];
  const keep = (): void => {
    const last = stretches.at(-1);
    if (last !== undefined) stretches[stretches.length - 1] = { ...last, untilMs: hands.atMs };
    stretches.push({
      state: hands.log.state,
      fromMs: hands.atMs,
      untilMs: Number.POSITIVE_INFINITY,
    });
  };
  for (let n = 1; n < plan.pressesBefore; n += 1) hands.next();
  hands.next(plan.beginsAtMs);
  const beganAtMs = hands.atMs;
  const before = hands.presses;
  const answered = new Set<string>();
  keep();
  for (;;) {
    const endMs = drillEndMs(cardsShown(stretches, plan, hands.atMs), plan, beganAtMs);
    const untilMs = Math.min(endMs, nextShowMs(stretches, plan, hands.atMs, answered));
    const done = hands.next(untilMs);
    if (done === 'over') break;
    if (done === 'pressed') keep();
    for (const card of newCards(stretches, plan, hands.atMs, answered)) {
      answered.add(card.id);
      if (card.kind === 'interruption') hands.away(card.awayMs);
      else if (card.kind === 'mishap' && answer(hands, card)) keep();
    }
    if (hands.atMs >= drillEndMs(cardsShown(stretches, plan, hands.atMs), plan, beganAtMs)) break;
  }
  return {
    log: hands.log,
    shown: cardsShown(stretches, plan, hands.atMs),
    presses: hands.presses - before,
    beganAtMs,
    endedAtMs: hands.atMs,
  };
}

function newCards(
  stretches: readonly Stretch[],
  plan: DrillPlan,
  nowMs: number,
  answered: ReadonlySet<string>,
): readonly DrillCard[] {
  const shown = cardsShown(stretches, plan, nowMs);
  return shown.flatMap(({ card, shownAtMs }) =>
    shownAtMs === null || answered.has(card.id) ? [] : [card],
  );
}

/** When the next card comes if nothing is pressed before it. */
function nextShowMs(
  stretches: readonly Stretch[],
  plan: DrillPlan,
  nowMs: number,
  answered: ReadonlySet<string>,
): number {
  const last = stretches.at(-1);
  if (last === undefined) return Number.POSITIVE_INFINITY;
  const ahead = cardsShown(stretches, plan, Number.MAX_SAFE_INTEGER);
  const waiting = ahead.flatMap(({ card, shownAtMs }) =>
    shownAtMs === null || answered.has(card.id) ? [] : [shownAtMs],
  );
  return Math.max(nowMs, Math.min(Number.POSITIVE_INFINITY, ...waiting));
}
