/** Words of the clinic's tablets. */
import type { Problem } from '../base/problem.ts';
import { sharing } from './en/sharing.ts';
import { spoken } from './language.ts';
import { openingTexts } from './opening-words.ts';

export const sharingWords = spoken('sharing', sharing);

type Known = Readonly<Record<string, string>>;

const wordsOf = (code: string): string | undefined => {
  const known: Known = sharingWords.problems;
  return known[code];
};

/** What stood against it; of a code without words the place, what was expected there and what came. */
export function sharingProblemWords(problem: Problem): string {
  const { code, place, came } = problem;
  if (code === 'box-line') {
    const [, line = ''] = /^line (\d+)$/.exec(place) ?? [];
    return sharingWords.boxLine({ line: Number(line), came });
  }
  // What this tablet itself could not store has its words already.
  const notKept: Known = openingTexts.notKept;
  return wordsOf(code) ?? notKept[code] ?? sharingWords.otherProblem(problem);
}

/** The same of a code alone. */
export const sharingCodeWords = (code: string): string =>
  wordsOf(code) ?? sharingWords.codeProblem(code);

/** Why a pairing ended, on either side. */
export function pairProblemWords(code: string, side: 'new' | 'lead' = 'new'): string {
  const known: Known = sharingWords.pairProblems;
  const atLead: Known = sharingWords.leadPairProblems;
  return (side === 'lead' ? atLead[code] : undefined) ?? known[code] ?? sharingCodeWords(code);
}
