import { IDBFactory } from 'fake-indexeddb';
import 'fake-indexeddb/auto';
import { createIndexedDbJournal } from '../../src/storage/indexed-db-journal.ts';
import { createTabChannel } from '../../src/storage/tab-channel.ts';
import { journalContract } from './journal-contract.ts';
import { MemoryHome } from './memory-home.ts';
import { createMemoryDevice, createMemoryJournal } from './memory-journal.ts';

journalContract('memory', async () => {
  const device = createMemoryDevice();
  return {
    openTab: () => createMemoryJournal(device),
    copies: 1 as const,
    dispose: () => Promise.resolve(),
  };
});

let devices = 0;
for (const copies of [1, 2] as const) {
  journalContract(`a database double with ${copies} copies`, async () => {
    devices += 1;
    const name = `journal-${devices}`;
    const home = copies === 2 ? new MemoryHome() : null;
    return {
      openTab: () => createIndexedDbJournal({ name, home, channel: createTabChannel(name) }),
      copies,
      dispose: async () => {
        globalThis.indexedDB = new IDBFactory();
      },
    };
  });
}
