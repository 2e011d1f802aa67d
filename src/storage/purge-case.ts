/** Takes what is left of a deleted case out of the database and the files. */

import { fieldsOf } from '../base/json.ts';
import { strictly } from './database-transactions.ts';
import { encodeRecords, type FileRecord, readLines } from './file-lines.ts';
import type { JournalDatabase } from './migrations.ts';
import { type Homes, writeCompared } from './reconcile.ts';

/** Takes out what was set apart of one deleted case: deleted for good means these copies too. */
export function forgetApart(database: JournalDatabase, caseId: string): Promise<void> {
  return strictly(database, async (writing) => {
    const store = writing.objectStore('apart');
    for (const key of await store.getAllKeys()) {
      const found = await store.get(key);
      if (found?.caseId === caseId) await store.delete(key);
    }
  });
}

/** What was followed of a case, in the words of `runtime/follow-up`: it goes with the case. */
const FOLLOWED = 'fact-follow-up';

/** Whether a line holds an entry of the case, or of what was followed of it. */
function isOf({ record, body }: FileRecord, caseId: string): boolean {
  if (record === 'entry') return body.caseId === caseId;
  return record === 'document' && body.kind === FOLLOWED && fieldsOf(body.value)['item'] === caseId;
}

/**
 * Takes the lines of one deleted case out of the files: every other line of a file that holds some
 * is copied to `place` before that file is removed, so that a crash on the way loses nothing.
 */
export async function purgeCase(homes: Homes, caseId: string): Promise<void> {
  const { home, place } = homes;
  for (const file of await home.list()) {
    if (file.epoch === place.epoch && file.part === place.part) continue;
    const { records } = readLines(await home.read(file.name));
    const kept = records.filter((record) => !isOf(record, caseId));
    if (kept.length === records.length) continue;
    if (kept.length > 0) await home.append({ ...place, bytes: encodeRecords(kept) });
    await home.remove(file.name);
  }
  await writeCompared(homes);
}
