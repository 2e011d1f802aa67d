// @vitest-environment jsdom
// A record says once in which zone its times are told, and nothing else on the page says otherwise.
import { screen } from '@testing-library/react';
import { expect, it } from 'vitest';
import { ok } from '../../src/base/result.ts';
import { DEFAULT_SETTINGS } from '../../src/runtime/app-state.ts';
import { chainEntries, NO_ENTRY_HASH } from '../../src/storage/hash-chain.ts';
import { Record } from '../../src/ui/record/page/Record.tsx';
import { Chair } from '../engine/chair.ts';
import { ETCH_ROUND, settingOf } from '../engine/fixture.ts';

import { fakeSession, show } from './fake-session.tsx';

it('tells the times of a case in one zone, by name, once', async () => {
  const { log } = new Chair(settingOf(ETCH_ROUND, ['11'])).rows(`
    at 0 s   confirm ready case
    at 1 s   start etch 11
    at 21 s  end etch 11
  `);
  const settings = { ...DEFAULT_SETTINGS, zone: 'Asia/Kathmandu' };
  const session = fakeSession({ settings });
  const entries = chainEntries(log.records, { caseId: 'case-1', epoch: 1, prev: NO_ENTRY_HASH });
  const verdict = { goodCount: entries.length, firstBad: null };
  const reading = { caseId: 'case-1', entries, apart: [], verdict };
  session.readRecord.mockResolvedValue(ok({ log, reading, anchor: null }));
  show(<Record caseId="case-1" />, { session });
  await screen.findByRole('heading', { name: 'Steps' }, { timeout: 10_000 });
  const told = /times? of day|local time|zone|UTC|as on this tablet/i;
  const lines = screen.getAllByText(told).filter((element) => element.closest('article') !== null);
  expect(lines.map((element) => element.textContent)).toEqual([
    'In the clinic’s zone, Asia/Kathmandu; the case itself names none',
  ]);
});
