/** Settings are stored with each letter; none of them may fall behind another. */
import { expect, test } from 'vitest';
import { createMemoryJournal } from '../storage/memory-journal.ts';
import { quietSession } from './quiet-session.ts';

test('a setting that is typed while an earlier one is stored is never put back', async () => {
  const journal = createMemoryJournal();
  const session = quietSession({ journal, deviceZone: 'Europe/Lisbon', protocols: [], cases: [] });
  await session.start();
  const { documents } = journal;
  const list = documents.list.bind(documents);
  const { store } = session;
  const shown: string[] = [];
  let second: Promise<unknown> | null = null;
  // While the lists are read again after the first write, the next field is typed.
  documents.list = (kind) => {
    if (second === null) {
      second = session.saveSettings({ ...store.getState().settings, clinic: 'Rooms' });
      store.subscribe(({ settings }) => shown.push(settings.clinic));
    }
    return list(kind);
  };
  await session.saveSettings({ ...store.getState().settings, emergencyNumber: '9 112' });
  await second;
  expect(new Set(shown)).toEqual(new Set(['Rooms']));
  expect(store.getState().settings).toMatchObject({ emergencyNumber: '9 112', clinic: 'Rooms' });
  // What a session loads a little later is not left behind half loaded.
  await session.lead();
});

test('nor by lists that are read while it is still being written', async () => {
  const journal = createMemoryJournal();
  const session = quietSession({ journal, deviceZone: 'Europe/Lisbon', protocols: [], cases: [] });
  await session.start();
  const { documents } = journal;
  const put = documents.put.bind(documents);
  const { store } = session;
  let write = (): void => undefined;
  const held = new Promise<void>((resolve) => {
    write = resolve;
  });
  documents.put = async (document) => {
    if (document.kind === 'settings') await held;
    return put(document);
  };
  const saved = session.saveSettings({ ...store.getState().settings, clinic: 'Rooms' });
  // Read as another thing of the clinic changes: the disk does not have it yet.
  await session.refreshLists();
  expect(store.getState().settings.clinic).toBe('Rooms');
  write();
  await saved;
  expect(store.getState().settings.clinic).toBe('Rooms');
  await session.lead();
});
