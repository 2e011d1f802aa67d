/** What was followed of a deleted case is in neither home of the journal, and not after a new start. */
import { IDBFactory } from 'fake-indexeddb';
import 'fake-indexeddb/auto';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { asFact, keepFact, listFacts } from '../../src/runtime/facts/fact.ts';
import { forgetFollowUp } from '../../src/runtime/follow-up/forget-follow-up.ts';
import { createIndexedDbJournal } from '../../src/storage/indexed-db-journal.ts';
import type { Journal } from '../../src/storage/journal-types.ts';
import { createTabChannel } from '../../src/storage/tab-channel.ts';
import { must } from '../backup/filled-journal.ts';
import { MemoryHome } from '../storage/memory-home.ts';
import { opening, stampAt } from '../storage/sample-case.ts';
import { bonded } from './clinic.ts';

const NAME = 'follow-up-files';
let open: Journal[] = [];
let home: MemoryHome;

beforeEach(() => {
  globalThis.indexedDB = new IDBFactory();
  home = new MemoryHome();
});

afterEach(async () => {
  for (const journal of open) await journal.close();
  open = [];
});

async function start() {
  const journal = createIndexedDbJournal({ name: NAME, home, channel: createTabChannel(NAME) });
  open.push(journal);
  return { journal, epoch: must(await journal.startWriting()).epoch };
}

const textOfFiles = (): string =>
  [...home.files.values()].map((bytes) => new TextDecoder().decode(bytes)).join('');

it('goes with the case, and that of another stays', async () => {
  const { journal, epoch } = await start();
  for (const item of ['gone', 'kept']) {
    must(await journal.append({ caseId: item, epoch, recorded: [opening(item)] }));
    const said = bonded({ patient: `chart-of-${item}` });
    const fact = { kind: 'follow-up', item, said, after: [], tablet: 'a', by: null } as const;
    must(await keepFact(journal, asFact({ ...fact, atWallMs: 1 }), epoch));
  }
  expect(textOfFiles()).toContain('chart-of-gone');
  const about = { caseId: 'gone', epoch, stamp: stampAt(0), by: null, reason: 'r' };
  must(await journal.deleteCase(about));
  must(await forgetFollowUp(journal, { caseId: 'gone', epoch }));
  await journal.close();
  expect(textOfFiles()).not.toContain('chart-of-gone');
  expect(textOfFiles()).toContain('chart-of-kept');
  const again = await start();
  expect(must(await listFacts(again.journal, 'follow-up')).facts.map(({ item }) => item)).toEqual([
    'kept',
  ]);
  expect(textOfFiles()).not.toContain('chart-of-gone');
});
