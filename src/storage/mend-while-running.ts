/** Mends one case, and cuts it where it breaks, while the app runs. */
import { readCase } from './database-reads.ts';
import type { FileKeeper } from './file-keeper.ts';
import { noteFound, recentOf } from './heads-found.ts';
import type { HeadsKeeper } from './heads-keeper.ts';
import type { CaseReading, JournalResult } from './journal-types.ts';
import { mendAll } from './mend-all.ts';
import { settleCase } from './mend-case.ts';
import type { JournalDatabase } from './migrations.ts';

/** Fills what a case lacks from the file, notes what is still missing, and reads it again. */
export async function mendOne(
  database: JournalDatabase,
  { heads, file, caseId }: { heads: HeadsKeeper; file: FileKeeper; caseId: string },
): Promise<CaseReading> {
  const known = heads.heads.recent.find((head) => head.caseId === caseId) ?? null;
  const { home } = file;
  try {
    const { damaged } = await mendAll({ database, home }, new Map([[caseId, known]]));
    await noteFound(database, { heads, caseId, now: damaged[0] ?? null });
  } catch {
    // Files that fail may have it, and a full database cannot take it: nothing is told as lost.
  }
  return readCase(database, caseId);
}

/** Sets apart what lies behind the break. Errors: see `settleCase`. */
export async function settleOne(
  database: JournalDatabase,
  { heads, ...of }: { heads: HeadsKeeper; caseId: string; epoch: number },
): JournalResult<null> {
  const done = await settleCase(database, of);
  if (done.ok) heads.stand(await recentOf(database, heads.heads.recent));
  return done;
}
