/** Puts many cases together again, each from what both homes hold of it. */
import { readLines } from './file-lines.ts';
import type { CaseDamage, JournalEntry } from './journal-types.ts';
import { mendCase } from './mend-case.ts';
import type { JournalDatabase } from './migrations.ts';
import type { SecondHome } from './second-home.ts';
import type { Suspects } from './suspects.ts';

/** Cases whose entries are held in memory at once. */
const CASES_AT_ONCE = 100;

/** Mends every suspect from the files, where there are some. */
export async function mendAll(
  { database, home }: { readonly database: JournalDatabase; readonly home: SecondHome | null },
  suspects: Suspects,
): Promise<{
  readonly filled: number;
  readonly conflicts: number;
  readonly damaged: readonly CaseDamage[];
}> {
  const waiting = [...suspects];
  const damaged: CaseDamage[] = [];
  let filled = 0;
  let conflicts = 0;
  while (waiting.length > 0) {
    const batch = new Map(waiting.splice(0, CASES_AT_ONCE));
    const inFiles = home === null ? null : await entriesOf(home, batch);
    for (const [caseId, known] of batch) {
      const inFile = inFiles?.get(caseId) ?? [];
      const mended = await mendCase(database, { caseId, inFile, known });
      filled += mended.filled;
      conflicts += mended.conflicts;
      if (mended.damage !== null) damaged.push(mended.damage);
    }
  }
  return { filled, conflicts, damaged };
}

async function entriesOf(
  home: SecondHome,
  of: Suspects,
): Promise<ReadonlyMap<string, readonly JournalEntry[]>> {
  const found = new Map<string, JournalEntry[]>();
  for (const { name } of await home.list()) {
    for (const { record, body } of readLines(await home.read(name)).records) {
      if (record !== 'entry' || !of.has(body.caseId)) continue;
      const entries = found.get(body.caseId) ?? [];
      entries.push(body);
      found.set(body.caseId, entries);
    }
  }
  return found;
}
