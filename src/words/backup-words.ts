/** Words of the backup page. */
import type { Problem } from '../base/problem.ts';
import {
  RESTORED_GROUPS,
  type RestoreCounts,
  type RestoredGroup,
  type RestoredThing,
} from './codes.ts';
import { backup } from './en/backup.ts';
import { spoken } from './language.ts';
import { notKeptWords } from './opening-words.ts';

export const backupWords = spoken('backup', backup);

/** One line for what went wrong. */
export function backupProblemWords(problem: Pick<Problem, 'code'>): string {
  const known: Readonly<Record<string, string>> = backupWords.problems;
  return known[problem.code] ?? notKeptWords(problem);
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

/** Which tablet signed a file that was restored, and what that shows. */
export function sealWords(
  seal: {
    readonly publicKey: string;
    readonly isSigned: true | null;
    readonly isOwn: boolean;
  } | null,
): string {
  const { seals } = backupWords;
  if (seal === null) return seals.none;
  if (seal.isSigned === null) return seals.unchecked;
  return seal.isOwn ? seals.own : seals.other(seal.publicKey);
}

/** So many of a group are named on the screen; the report holds all of them. */
const NAMED_MAX = 20;

interface RestoredGroupWords {
  readonly id: RestoredGroup;
  readonly title: string;
  readonly lines: readonly { readonly id: string; readonly name: string; readonly did: string }[];
  /** What is left out; null when everything is named. */
  readonly more: string | null;
}

/** What a restore added, changed or set apart, by name; groups with nothing in them are left out. */
export function restoredGroups(things: readonly RestoredThing[]): readonly RestoredGroupWords[] {
  return RESTORED_GROUPS.flatMap((group): RestoredGroupWords[] => {
    const all = things.filter(({ about }) => about === group);
    if (all.length === 0) return [];
    const lines = all.slice(0, NAMED_MAX).map(({ id, title, revision, did }) => ({
      id,
      name:
        group === 'outcome-review'
          ? (backupWords.reviews[id] ?? title)
          : backupWords.revision({ title, revision }),
      did: backupWords.did(did.map((deed) => backupWords.deeds[deed])),
    }));
    const left = all.length - lines.length;
    const more = left > 0 ? backupWords.moreThings(left) : null;
    return [{ id: group, title: backupWords.things[group], lines, more }];
  });
}
