/** The app where its part about the lengths of cases cannot be loaded: nothing else stops. */
import { expect, it, vi } from 'vitest';
import { keepHeads } from '../../src/runtime/anchors/anchors.ts';
import { createMemoryDevice, createMemoryJournal } from '../storage/memory-journal.ts';
import { fakeTime } from './fake-time.ts';

vi.mock('../../src/runtime/anchors/heads.ts', () => {
  throw new TypeError('Failed to fetch dynamically imported module');
});

it('notes no head, and goes on', async () => {
  const { clock } = fakeTime();
  await expect(
    keepHeads({ journal: createMemoryJournal(createMemoryDevice()), clock }, 1),
  ).resolves.toBeUndefined();
});
