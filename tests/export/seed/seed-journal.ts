/** Stores whole cases from inside a page, with the application's own storage and nothing else. */
import type { Recorded } from '../../../src/engine/types.ts';
import { createIndexedDbJournal } from '../../../src/storage/indexed-db-journal.ts';
import { createTabChannel } from '../../../src/storage/tab-channel.ts';

async function seedJournal(caseId: string, recorded: readonly Recorded[]): Promise<number> {
  const channel = createTabChannel('lutewatch-seed');
  const journal = createIndexedDbJournal({ name: 'lutewatch', home: null, channel });
  const started = await journal.startWriting();
  if (!started.ok) throw new Error(JSON.stringify(started.error));
  const stored = await journal.append({ caseId, epoch: started.value.epoch, recorded });
  if (!stored.ok) throw new Error(JSON.stringify(stored.error));
  await journal.stopWriting();
  await journal.close();
  return stored.value.entries.length;
}

declare global {
  interface Window {
    seedJournal: typeof seedJournal;
  }
}

window.seedJournal = seedJournal;
