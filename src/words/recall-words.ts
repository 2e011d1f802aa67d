/** Words for recalled lots. */
import type { Problem } from '../base/problem.ts';
import { recall } from './en/recall.ts';
import { spoken } from './language.ts';
import { stockProblemWords } from './material-stock-words.ts';

export const recallWords = spoken('recall', recall);

/** Why a mark was not made or removed. */
export function recallProblemWords(problem: Problem): string {
  const known: Readonly<Record<string, string>> = recallWords.problems;
  return known[problem.code] ?? stockProblemWords(problem);
}
