/** A hand-over between two whole apps of one clinic, over all of sharing but the network. */
import { afterEach, expect, it } from 'vitest';
import { createAlarmTimer } from '../../src/runtime/device/alarm-timer.ts';
import { realClock } from '../../src/runtime/device/clock.ts';
import { Session } from '../../src/runtime/session.ts';
import { until } from '../sharing/clinic.ts';
import { FacadeTablet, type TestServer, testServer } from '../sharing/facade-tablet.ts';
import { pageTimers } from '../sharing/real-timers.ts';
import { draft, spec } from './two-tablets.ts';

const PASSPHRASE = 'a lead of the clinic';

let on: FacadeTablet[] = [];
afterEach(async () => {
  for (const tablet of on) await tablet.off();
  on = [];
});

async function tablet(server: TestServer): Promise<FacadeTablet> {
  const made = await new FacadeTablet(server).on();
  on.push(made);
  return made;
}

async function founded(server: TestServer): Promise<FacadeTablet> {
  const lead = await tablet(server);
  const { code } = await server.firstCode();
  const joining = await lead.sharing.join({ code, name: 'Chair 1' });
  if (!joining.ok) throw new Error(joining.error.code);
  await until(() => joining.value.state.getState().step === 'done', 'the first pairing');
  await lead.sharing.found({ passphrase: PASSPHRASE });
  await until(() => lead.state.line === 'open' && lead.state.owed === 0, 'the founder to share');
  return lead;
}

async function letIn(server: TestServer, lead: FacadeTablet): Promise<FacadeTablet> {
  const other = await tablet(server);
  const inviting = await lead.sharing.invite({ passphrase: PASSPHRASE });
  if (!inviting.ok) throw new Error(inviting.error.code);
  const { code } = inviting.value.state.getState();
  const joining = await other.sharing.join({ code: code ?? '', name: 'Chair 2' });
  if (!joining.ok) throw new Error(joining.error.code);
  const [here, there] = [inviting.value.state, joining.value.state];
  await until(() => here.getState().step === 'compare', 'the digits');
  await until(() => there.getState().step === 'compare', 'the digits there');
  await inviting.value.confirm();
  await until(() => there.getState().step === 'done', 'to be let in');
  return other;
}

/** The app of a tablet beside its part in the clinic: one journal, one state. */
async function appOf(of: FacadeTablet): Promise<Session> {
  const timers = { ...pageTimers(), route: 'page' as const, dispose: () => undefined };
  const visibility = {
    getState: () => 'visible' as const,
    getInitialState: () => 'visible' as const,
    subscribe: () => () => undefined,
    onWake: () => () => undefined,
    onLeave: () => () => undefined,
    dispose: () => undefined,
  };
  const clock = realClock({ runId: `app ${of.id}` });
  const session = new Session({
    journal: of.journal,
    seat: {
      acquire: async () => true,
      requestHandover: async () => 'held',
      takeOver: async () => true,
    },
    store: of.store,
    clock,
    timers,
    visibility,
    alarm: createAlarmTimer({ timers, visibility }),
    shipped: { protocols: [], cases: [], tables: null },
    pictures: null,
    newId: () => crypto.randomUUID(),
    realNowMs: () => clock.stamp().monoMs,
  });
  // Both write through one journal, with the epoch that it hands out now.
  of.epoch = (of.epoch ?? 0) + 1;
  await session.start();
  return session;
}

it('a case goes from one chair to the other, is read along where it was, and is told with both names', async () => {
  const server = testServer();
  const [first, second] = await founded(server).then(
    async (lead) => [lead, await letIn(server, lead)] as const,
  );
  const [a, b] = [await appOf(first), await appOf(second)];
  const opened = await a.openCase({ spec, mode: 'patient', speed: 1, draft });
  if (!opened.ok) throw new Error(JSON.stringify(opened.error));
  const caseId = opened.value;
  a.pressNext();
  await until(async () => (await second.entries(caseId)) === 2, 'the press on the other tablet');
  expect(await b.resumeCase(caseId)).toMatchObject({ ok: true });
  expect(b.store.getState().running).toMatchObject({ isViewOnly: true });
  // The other tablet is heard of: nothing is taken from it.
  await until(() => second.state.tablets.some((t) => t.tablet === first.id), 'a word of it');
  expect(await b.pens.take({ caseId, reason: 'we want to' })).toMatchObject({
    error: { code: 'pen-is-held' },
  });
  await until(() => first.state.tablets.some((t) => t.tablet === second.id), 'a word of this one');
  expect(await a.pens.give({ tablet: second.id, name: 'Chair 2' })).toMatchObject({ ok: true });
  expect(a.store.getState().running).toMatchObject({ isViewOnly: true });
  const given = () => b.store.getState().running?.log.state.pen.given ?? null;
  await until(() => given()?.to === second.id, 'what was given');
  expect(await b.pens.take({ caseId })).toMatchObject({ ok: true });
  expect(b.do({ do: 'note', words: 'from here on' })).toBeNull();
  const last = () => a.store.getState().running?.log.records.at(-1)?.event;
  await until(() => last()?.type === 'note-added', 'what is pressed there now');
  expect(a.store.getState().running).toMatchObject({ isViewOnly: true });
  expect(a.store.getState().running?.log.state.pen).toMatchObject({ name: 'Chair 2' });
  a.leaveCase();
  b.leaveCase();
}, 60_000);
