/** Words of recalls and of what was found at them. */
import type { BondedUnit, Finding, UnitFound } from '../outcomes/follow-up-types.ts';
import type { Recall } from '../outcomes/recalls.ts';
import { FINDINGS } from '../outcomes/vocabulary.ts';
import type { Notation } from '../protocol/case-types.ts';
import { bondedBefore, followUp, recallVisit } from './en/follow-up.ts';
import { spoken } from './language.ts';
import { materialForms, restorationWord } from './material-words.ts';
import { toothLabel } from './subject-words.ts';

export const followUpWords = spoken('followUp', followUp);
export const recallVisitWords = spoken('recallVisit', recallVisit);
export const bondedBeforeWords = spoken('bondedBefore', bondedBefore);

/** `12`, `13–15` for a bridge by its retainers. */
export const unitLabel = ({ teeth, unit }: BondedUnit, notation: Notation): string =>
  (teeth.length === 0 ? [unit] : teeth).map((tooth) => toothLabel(tooth, notation)).join('–');

/** "Veneer, lithium disilicate"; what is not known is left out. */
export const unitKind = ({ restoration, material }: BondedUnit): string =>
  [restorationWord(restoration), materialForms(material).inLine]
    .filter((word) => word !== '')
    .join(', ');

/** "Lost retention and Chipped", in the order in which findings are listed. */
export const findingsWords = (found: readonly Finding[]): string =>
  followUpWords.found(
    FINDINGS.filter((finding) => found.includes(finding)).map(
      (finding) => followUpWords.findings[finding].name,
    ),
  );

/** One sight of a unit in one line: "3 May 2026: Chipped. Repaired". */
export const sightWords = ({ findings, done }: UnitFound, on: string): string =>
  followUpWords.foundOn({
    on,
    what: findingsWords(findings),
    ...(done === undefined ? {} : { done: followUpWords.thens[done] }),
  });

/** Everything that a visit says of one unit, each a short sentence of its own. */
export function unitFoundWords(
  found: UnitFound,
  o: { readonly notation: Notation; readonly dayOf: (isoDay: string) => string },
): readonly string[] {
  const { findings, retainers = [], done, statedDay, grades = [] } = found;
  return [
    findingsWords(findings),
    ...retainers.map((retainer) =>
      followUpWords.retainer({
        tooth: toothLabel(retainer.tooth, o.notation),
        what: findingsWords(retainer.findings),
      }),
    ),
    ...(done === undefined ? [] : [followUpWords.thens[done]]),
    ...(statedDay === undefined ? [] : [followUpWords.stated(o.dayOf(statedDay))]),
    ...grades.map((grade) => followUpWords.grade(grade)),
  ];
}

/** "6 months". */
export function recallName({ id }: Pick<Recall, 'id'>): string {
  const { later, ...first } = followUpWords.recallNames;
  return Object.entries(first).find(([known]) => known === id)?.[1] ?? later;
}

/** How a recall stands: "Overdue since 1 Jul 2026". */
export function recallStanding(
  { state, closesOn, opensOn }: Recall,
  dayOf: (isoDay: string) => string,
): string {
  switch (state) {
    case 'overdue':
      return followUpWords.overdueSince(dayOf(closesOn));
    case 'due':
      return followUpWords.dueUntil(dayOf(closesOn));
    case 'ahead':
      return followUpWords.aheadFrom(dayOf(opensOn));
    case 'held':
    case 'missed':
      return followUpWords.recallStates[state];
  }
}
