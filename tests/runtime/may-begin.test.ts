/**
 * What keeps a patient's case from being begun, whichever screen asks for it. The hold is 24 h of
 * elapsed time (common practice; Irie et al., PLoS ONE 2017, doi 10.1371/journal.pone.0183381).
 */
import { describe, expect, test } from 'vitest';
import type { CaseFile } from '../../src/protocol/case-types.ts';
import { caseNamed, protocolNamed } from '../families/family-chair.ts';
import { createMemoryJournal } from '../storage/memory-journal.ts';
import { type FakeTime, fakeTime, settle } from './fake-time.ts';
import { quietSession } from './quiet-session.ts';

const HOUR_MS = 3_600_000;
const NOW_MS = Date.UTC(2026, 10, 27, 9);
const approval = { hash: 'h', by: 'lead', onWallMs: 0 };
const draft = {
  protocol: protocolNamed('finishing-visit'),
  hash: 'h',
  origin: 'own',
  approval,
} as const;

const visit = (hoursAgo: number): CaseFile => ({
  ...caseNamed('finish-two-veneers'),
  follows: { caseId: 'two-veneers', lastExposureWallMs: NOW_MS - hoursAgo * HOUR_MS },
});

async function started(time: FakeTime = fakeTime({ wallMs: NOW_MS })) {
  const journal = createMemoryJournal();
  const session = quietSession({ journal, protocols: [], cases: [], time });
  await session.start();
  return session;
}

describe('a finishing visit within the hold', () => {
  const patient = { mode: 'patient', speed: 1, draft } as const;

  test('is not begun before people were told until when, and nothing is written', async () => {
    const session = await started();
    expect(await session.openCase({ ...patient, spec: visit(20) })).toEqual({
      ok: false,
      error: { code: 'hold-runs', endsMs: NOW_MS + 4 * HOUR_MS },
    });
    expect(session.store.getState()).toMatchObject({ running: null, cases: [] });
  });

  test('is begun by people who were told, and after 24 h at once', async () => {
    const told = await started();
    expect(await told.openCase({ ...patient, spec: visit(20), withinHold: true })).toMatchObject({
      ok: true,
    });
    await settle();
    const later = await started();
    expect(await later.openCase({ ...patient, spec: visit(24) })).toMatchObject({ ok: true });
  });

  test('is rehearsed without a question', async () => {
    const session = await started();
    const rehearsal = { ...patient, mode: 'rehearsal' } as const;
    expect(await session.openCase({ ...rehearsal, spec: visit(1) })).toMatchObject({ ok: true });
  });
});
