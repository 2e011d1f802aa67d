/** Words of the backup page. */
import type { Problem } from '../base/problem.ts';
import type { RestoreCounts } from './codes.ts';
import { backup } from './en/backup.ts';
import { spoken } from './language.ts';

export const backupWords = spoken('backup', backup);

/** One line for what went wrong. */
export function backupProblemWords(problem: Pick<Problem, 'code' | 'expected'>): string {
  const known: Readonly<Record<string, string>> = backupWords.problems;
  return known[problem.code] ?? backupWords.otherProblem(problem.expected);
}

/** What a restore did, line by line; lines with nothing to say are left out. */
export function restoreFacts(report: RestoreCounts): readonly {
  readonly id: string;
  readonly label: string;
  readonly value: string;
  readonly note?: string;
}[] {
  const { facts } = backupWords;
  const line = (id: keyof typeof facts, count: number, note?: string) => ({
    id,
    label: facts[id],
    value: String(count),
    count,
    ...(note === undefined ? {} : { note }),
  });
  const lines = [
    line('added', report.casesAdded),
    line('continued', report.casesContinued),
    line('same', report.casesSame),
    line('deleted', report.casesDeleted),
    line('differing', report.casesDiffering, backupWords.differingNote),
    line('documents', report.documentsTaken),
    line('apart', report.setApart, backupWords.apartNote),
  ];
  return lines.filter(({ id, count }) => count > 0 || id === 'added');
}
