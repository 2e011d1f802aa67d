/** The app where the code of the lead's desk cannot be loaded: the first screen is there all the same. */
import { expect, it, vi } from 'vitest';
import { createMemoryJournal } from '../storage/memory-journal.ts';
import { quietSession } from './quiet-session.ts';

vi.mock('../../src/runtime/lead/lead.ts', () => {
  throw new TypeError('Failed to fetch dynamically imported module');
});

it('starts, and asks for it again when it is wanted', async () => {
  const journal = createMemoryJournal();
  const session = quietSession({ journal, protocols: [], cases: [] });
  // A rejection that nobody catches fails this run.
  await session.start();
  expect(session.store.getState().phase).toBe('ready');
  const first = session.lead();
  await expect(first).rejects.toThrow();
  const again = session.lead();
  expect(again).not.toBe(first);
  await expect(again).rejects.toThrow();
});
