/** What is done in a window that only reads along is noted by the one that writes, and told in both. */
import { webcrypto } from 'node:crypto';
import { expect, test, vi } from 'vitest';
import { createMemoryDevice, createMemoryJournal } from '../storage/memory-journal.ts';
import { fakeTime } from './fake-time.ts';
import { quietSession } from './quiet-session.ts';

const NOW_MS = Date.UTC(2026, 10, 27, 9);

async function twoWindows() {
  const device = createMemoryDevice();
  const open = async (run: string, isWriter: boolean) => {
    const session = quietSession({
      journal: createMemoryJournal(device),
      protocols: [],
      cases: [],
      crypto: webcrypto as unknown as Crypto,
      time: fakeTime({ wallMs: NOW_MS }),
      isWriter,
      run,
    });
    await session.start();
    return session;
  };
  return { writer: await open('w', true), reader: await open('r', false) };
}

test('a backup made in a reading window is told in both', async () => {
  const { writer, reader } = await twoWindows();
  const made = await reader.casesList.backUp('a long passphrase here', () => undefined);
  expect(made.ok).toBe(true);
  for (const { casesList } of [writer, reader]) {
    await vi.waitFor(() =>
      expect(casesList.state.getState().lastBackup).toEqual({ onWallMs: NOW_MS, cases: 0 }),
    );
  }
});

test('that a case was given out from a reading window is noted, and told in both', async () => {
  const { writer, reader } = await twoWindows();
  const mark = { caseId: 'case-1', head: 'h', form: 'json' };
  expect(await reader.casesList.markExported(mark)).toEqual({ ok: true, value: null });
  for (const { casesList } of [writer, reader]) {
    await vi.waitFor(() =>
      expect([...casesList.state.getState().marks.keys()]).toEqual(['case-1']),
    );
  }
});
