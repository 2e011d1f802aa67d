/** The journal of a page, in both homes, with its lengths noted beside them. */
import { createIndexedDbJournal } from '../../src/storage/indexed-db-journal.ts';
import type { Journal } from '../../src/storage/journal-types.ts';
import { createOpfsHome } from '../../src/storage/opfs-home.ts';
import { createStorageHeads } from '../../src/storage/storage-heads.ts';
import { createTabChannel } from '../../src/storage/tab-channel.ts';

export function pageJournal(name: string): Journal {
  const home = createOpfsHome();
  const channel = createTabChannel(name);
  const heads = [createStorageHeads(() => localStorage), home.heads];
  return createIndexedDbJournal({ name, home, channel, heads });
}
