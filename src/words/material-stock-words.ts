/** Words of the stock list and of its form. */
import type { Problem } from '../base/problem.ts';
import { materialForm, stock } from './en/material-stock.ts';
import { spoken } from './language.ts';

export const stockWords = spoken('stock', stock);
export const materialFormWords = spoken('materialForm', materialForm);

/** Why an entry or a reading was not saved, and what to do. */
export function stockProblemWords(problem: Problem): string {
  const { problems } = stockWords;
  return problem.code === 'not-writer' ? problems['not-writer'] : problems.other(problem);
}
