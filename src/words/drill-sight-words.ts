/** What the card of a drill says, about the teeth and units of this case. */
import type { DrillCard } from '../drill/drill-types.ts';
import type { CaseFile } from '../protocol/case-types.ts';
import { drillSight } from './en/drill-sight.ts';
import { spoken } from './language.ts';
import { subjectsLabel } from './subject-words.ts';

export const drillSightTexts = spoken('drillSight', drillSight);

/** What is seen, as one sentence; with an interruption how long the hands are away. */
export function drillCardWords(card: DrillCard, spec: CaseFile): string {
  const of = subjectsLabel(card.subjects, spec);
  const seen = drillSightTexts.seen[card.sight](of);
  if (card.kind !== 'interruption') return seen;
  return `${seen} ${drillSightTexts.away(Math.round(card.awayMs / 1000))}`;
}
