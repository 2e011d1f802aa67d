/**
 * Journals as the first released format wrote them (`tests/fixtures`): they are taken in at the start of
 * an episode, and must be told at its end as they were.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fieldsOf } from '../../src/base/json.ts';

export interface OldJournal {
  readonly caseId: string;
  readonly entries: readonly unknown[];
  /** The file, to the byte. */
  readonly text: string;
}

const FOLDER = 'tests/fixtures/first-format/exports';

/** Read from the project's folder, in which the simulator runs. */
export const OLD_JOURNALS: readonly OldJournal[] = [
  'journal.json',
  'deleted-rehearsal.journal.json',
].map((name) => {
  const text = readFileSync(join(process.cwd(), FOLDER, name), 'utf8');
  const { caseId, entries } = fieldsOf(JSON.parse(text));
  if (typeof caseId !== 'string' || !Array.isArray(entries)) throw new Error(name);
  return { caseId, entries, text };
});
