/**
 * What keeps a patient's case from being begun, whichever screen asks for it. The hold is 24 h of
 * elapsed time (common practice; Irie et al., PLoS ONE 2017, doi 10.1371/journal.pone.0183381).
 */
import { describe, expect, test, vi } from 'vitest';
import { present } from '../../src/base/assert.ts';
import type { CaseFile } from '../../src/protocol/case-types.ts';
import { confirm, expose, protocolOf, settingOf, step } from '../engine/fixture.ts';
import { caseNamed, protocolNamed } from '../families/family-chair.ts';
import { createMemoryDevice, createMemoryJournal } from '../storage/memory-journal.ts';
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

describe('a prepared case', () => {
  const protocol = protocolOf([step('ready', 'case', confirm)]);
  const { spec } = settingOf(protocol, ['11']);
  const own = { protocol, hash: 'h', origin: 'own', approval } as const;
  const patient = { spec, mode: 'patient', speed: 1, draft: own } as const;
  const open = async (o: { readonly closes: boolean }) => {
    const device = createMemoryDevice();
    const time = fakeTime({ wallMs: NOW_MS });
    const window = async (run: string) => {
      const journal = createMemoryJournal(device);
      const session = quietSession({ journal, protocols: [], cases: [], time, run });
      await session.start();
      return session;
    };
    const session = await window('a');
    const begun = await session.openCase(patient);
    await settle();
    for (let n = 0; o.closes && n < 2; n += 1) {
      time.pass(1000);
      session.pressNext();
      await settle();
    }
    return { session, window, caseId: begun.ok ? begun.value : '' };
  };

  test.each([false, true])(
    'is not begun twice, nor in another window; closed: %s',
    async (closes) => {
      const { session, window, caseId } = await open({ closes });
      const refused = { ok: false, error: { code: 'case-begun', caseId, isClosed: closes } };
      expect(await session.openCase(patient)).toEqual(refused);
      // The case that runs is not put down for that.
      expect(session.store.getState().running?.caseId).toBe(caseId);
      const other = await window('b');
      expect(await other.openCase(patient)).toEqual(refused);
      expect(other.store.getState().cases).toHaveLength(1);
    },
  );

  test('is rehearsed as often as anybody likes, and a rehearsal begins nothing', async () => {
    const { session } = await open({ closes: true });
    for (let n = 0; n < 2; n += 1) {
      expect(await session.openCase({ ...patient, mode: 'rehearsal' })).toMatchObject({ ok: true });
    }
  });
});

describe('undoing a close', () => {
  const protocol = protocolOf([
    step('light', 'unit', expose({ surfaces: ['facial'], seconds: 10 })),
  ]);
  const { spec } = settingOf(protocol, ['11']);
  const own = { protocol, hash: 'h', origin: 'own', approval } as const;
  const closed = async () => {
    const time = fakeTime({ wallMs: NOW_MS });
    const session = await started(time);
    await session.openCase({ spec, mode: 'patient', speed: 1, draft: own });
    for (let n = 0; n < 3; n += 1) {
      session.pressNext();
      // Undo of a press is offered for ten seconds.
      time.pass(n < 2 ? 10_000 : 1000);
      await settle();
    }
    const prepared = () => session.store.getState().prepared;
    await vi.waitFor(() => expect(prepared()).toHaveLength(1));
    return { session, prepared, visit: present(prepared()[0], 'a finishing visit') };
  };

  test('takes the finishing visit back, and closing again prepares it anew', async () => {
    const { session, prepared } = await closed();
    expect(session.do({ do: 'undo' })).toBeNull();
    await vi.waitFor(() => expect(session.store.getState().running?.log.state.closed).toBeNull());
    await vi.waitFor(() => expect(prepared()).toEqual([]));
    session.pressNext();
    await vi.waitFor(() => expect(prepared()).toHaveLength(1));
  });

  test('leaves one that people have changed', async () => {
    const { session, prepared, visit } = await closed();
    const dated = { ...visit, scheduledFor: '2026-11-29T10:00:00.000Z' };
    await session.saveCase(dated);
    session.do({ do: 'undo' });
    await vi.waitFor(() => expect(session.store.getState().running?.log.state.closed).toBeNull());
    await settle();
    await settle();
    expect(prepared()).toEqual([dated]);
  });
});
