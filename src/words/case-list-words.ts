/** Words of the list of cases. */
import { caseList } from './en/case-list.ts';
import { spoken } from './language.ts';

export const caseListWords = spoken('caseList', caseList);

/** How many cases the list shows of those there are. */
export function shownWords(o: { readonly shown: number; readonly of: number }): string {
  return o.shown === o.of ? caseListWords.all(o.of) : caseListWords.shown(o);
}

/** What the file with many cases holds once it is made. */
export function exportReadyWords(o: { readonly cases: number; readonly left: number }): string {
  return o.left === 0 ? caseListWords.exportReady(o.cases) : caseListWords.exportReadyPart(o);
}

/**
 * How a case stands: closed or not, and how many limits were not kept.
 * @param o.breaches null while the case has not been read.
 */
export function caseStateWords(o: {
  readonly isClosed: boolean;
  readonly isDamaged: boolean;
  readonly breaches: number | null;
  readonly perhaps: number | null;
}): string {
  const { isClosed, isDamaged, breaches } = o;
  const perhaps = o.perhaps ?? 0;
  if (isDamaged) return caseListWords.damaged;
  if (breaches === null) return isClosed ? '' : caseListWords.open;
  const sure = breaches === 0 ? [] : [caseListWords.breaches(breaches)];
  const told = [...sure, ...(perhaps === 0 ? [] : [caseListWords.perhaps(perhaps)])];
  const limits = told.length === 0 ? caseListWords.noBreaches : caseListWords.limitsTold(told);
  return isClosed ? limits : caseListWords.openWith(limits);
}
