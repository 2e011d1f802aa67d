/** Leaving the chair is not leaving the case: it runs on in its window until it is closed. */
import { expect, test, vi } from 'vitest';
import { ok } from '../../src/base/result.ts';
import type { Journal } from '../../src/storage/journal-types.ts';
import { confirm, dwell, protocolOf, settingOf, step } from '../engine/fixture.ts';
import { createMemoryJournal } from '../storage/memory-journal.ts';
import { fakeTime, settle } from './fake-time.ts';
import { quietSession } from './quiet-session.ts';

const etch = protocolOf([step('etch', 'tooth', dwell(15, 20, 30))]);
const onePress = protocolOf([step('ready', 'case', confirm)]);

async function begun(protocol = etch, journal: Journal = createMemoryJournal()) {
  const { spec } = settingOf(protocol, ['11']);
  const approval = { hash: 'h', by: 'lead', onWallMs: 0 };
  const draft = { protocol, hash: 'h', origin: 'own', approval } as const;
  const time = fakeTime({ wallMs: Date.UTC(2026, 10, 27, 9) });
  const session = quietSession({ journal, protocols: [], cases: [], time });
  await session.start();
  const tryOpen = (o: { readonly id: string; readonly mode: 'patient' | 'rehearsal' }) =>
    session.openCase({ spec: { ...spec, id: o.id }, mode: o.mode, speed: 1, draft });
  const open = async (id = spec.id): Promise<string> => {
    const opened = await tryOpen({ id, mode: 'patient' });
    if (!opened.ok) throw new Error(JSON.stringify(opened.error));
    await settle();
    return opened.value;
  };
  const pass = async (ms: number) => {
    time.pass(ms);
    await settle();
  };
  return { session, tryOpen, open, pass, caseId: await open() };
}

test('an open case keeps its clocks and its sounds while nobody is at the chair', async () => {
  const { session, pass, caseId } = await begun();
  session.pressNext();
  await pass(4000);
  session.leaveChair();
  await pass(9000);
  const { running } = session.store.getState();
  expect(running?.caseId).toBe(caseId);
  expect(running?.view.clocks.map((c) => c.elapsed)).toEqual([{ loMs: 13_000, hiMs: 13_000 }]);
  expect(running?.view.cues.length).toBeGreaterThan(0);
});

test('going on with it asks nothing and writes nothing', async () => {
  const { session, pass, caseId } = await begun();
  session.pressNext();
  await pass(2000);
  const before = session.store.getState().running?.log.records.length;
  session.leaveChair();
  await pass(5000);
  expect(await session.resumeCase(caseId)).toEqual(ok(null));
  await pass(100);
  const log = session.store.getState().running?.log;
  expect(log?.records.length).toBe(before);
  expect(log?.state.gaps).toEqual([]);
});

test('a closed case is put down with the chair', async () => {
  const { session, pass } = await begun(onePress);
  session.pressNext();
  await pass(1000);
  session.pressNext();
  await pass(1000);
  expect(session.store.getState().running?.log.state.closed).not.toBeNull();
  session.leaveChair();
  await pass(100);
  expect(session.store.getState().running).toBeNull();
  await vi.waitFor(() =>
    expect(session.store.getState().cases.map((c) => c.closedByPress)).toEqual([
      expect.any(Number),
    ]),
  );
});

test('the lists know of a closing before the chair is left', async () => {
  const { session, pass } = await begun(onePress);
  session.pressNext();
  await pass(1000);
  session.pressNext();
  await pass(1000);
  await vi.waitFor(() =>
    expect(session.store.getState().cases.map((c) => c.closedByPress)).toEqual([
      expect.any(Number),
    ]),
  );
});

test('another case is not opened or gone on with over the case of a patient', async () => {
  const { session, tryOpen, open, pass, caseId } = await begun();
  session.leaveCase();
  const other = await open('another');
  session.leaveChair();
  const refused = { ok: false, error: { code: 'patient-runs' } };
  for (const mode of ['patient', 'rehearsal'] as const) {
    expect(await tryOpen({ id: 'third', mode })).toMatchObject(refused);
  }
  expect(await session.resumeCase(caseId)).toMatchObject(refused);
  await pass(100);
  expect(session.store.getState().running?.caseId).toBe(other);
  expect(session.store.getState().cases).toHaveLength(2);
});

test('the dead time of a case that people put down is told as a gap', async () => {
  const { session, open, pass, caseId } = await begun();
  session.pressNext();
  await pass(2000);
  session.leaveCase();
  await open('another');
  session.leaveCase();
  await pass(60_000);
  expect(session.store.getState().running?.caseId).not.toBe(caseId);
  await session.resumeCase(caseId);
  await pass(100);
  expect(session.store.getState().running?.log.state.gaps).toMatchObject([{ cause: 'closed' }]);
});

test('the list of cases is told of a closing, and has to read nothing for it', async () => {
  const journal = createMemoryJournal();
  const { session, pass, caseId } = await begun(onePress, journal);
  const kept = vi.spyOn(session.casesList, 'keepFacts');
  session.pressNext();
  await pass(1000);
  session.pressNext();
  await pass(1000);
  await vi.waitFor(() => expect(kept).toHaveResolved());
  const read = vi.spyOn(journal, 'read');
  await session.casesList.refresh();
  const [facts] = session.casesList.state.getState().facts;
  expect(facts).toMatchObject({ caseId, isClosed: true, breaches: 0 });
  expect(read).not.toHaveBeenCalled();
});
