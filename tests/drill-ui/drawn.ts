/** Seeds that draw what a test wants to see, found by drawing: another version may draw something else from each. */
import { drillPlan } from '../../src/drill/draw.ts';
import type { DrillCard } from '../../src/drill/drill-types.ts';
import type { DrillCase } from '../../src/drill/hands.ts';
import { idealRun } from '../../src/drill/ideal.ts';

/** What is drawn toward on a tablet that has done no drill. */
export const FIRST_KINDS = ['saliva', 'unit-dropped', 'gelled-early', 'light-failed'] as const;

const SEEDS_MAX = 5000;

/** A drill whose first card is this one, at most a minute after its beginning, although nobody presses anything. */
export function seedFor(
  drilled: DrillCase,
  isWanted: (first: DrillCard, cards: number) => boolean,
): { readonly seed: number; readonly card: DrillCard; readonly comesMs: number } {
  for (let seed = 0; seed < SEEDS_MAX; seed += 1) {
    const plan = drillPlan({ ...drilled, seed, toward: FIRST_KINDS });
    const [card] = plan.cards;
    if (card === undefined || !isWanted(card, plan.cards.length)) continue;
    const shown = idealRun(drilled, plan).shown[0];
    const comesMs = (shown?.shownAtMs ?? Number.POSITIVE_INFINITY) - plan.beginsAtMs;
    if (shown?.card.id !== card.id || comesMs > 60_000 || comesMs >= card.afterMs) continue;
    return { seed, card, comesMs };
  }
  throw new Error('no seed draws this');
}
