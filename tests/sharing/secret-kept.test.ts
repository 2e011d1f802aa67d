/** A new secret of the clinic reaches every tablet that stays, whatever becomes of the store meanwhile. */
import { expect, it } from 'vitest';
import { until } from './clinic.ts';
import { founded, letIn, PASSPHRASE } from './facade-clinic.ts';
import { type TestServer, testServer } from './facade-tablet.ts';

/** A clinic of three; the last is put out while the second has no line. */
async function putOutUnheard(server: TestServer) {
  const lead = await founded(server);
  const away = await letIn(server, { lead, name: 'Chair 2' });
  const lost = await letIn(server, { lead, name: 'Chair 3' });
  await until(() => lead.state.tablets.length === 3 && lead.state.owed === 0, 'three rows');
  server.hub.cut(away.id);
  const disk = server.hub.disk();
  const out = { device: lost.id, reason: 'lost', passphrase: PASSPHRASE };
  expect((await lead.sharing.putOut(out)).ok).toBe(true);
  await until(() => lead.state.owed === 0 && handedOut(server).length === 1, 'the new secret');
  return { lead, away, disk };
}

const handedOut = ({ hub }: TestServer) =>
  hub.messages('K').filter(({ subject }) => subject.split('.')[3] === 'clinic');

it('a store that went back is handed the new secret again', async () => {
  const server = testServer();
  const { lead, away, disk } = await putOutUnheard(server);
  // What was not read yet is sent again anyhow.
  await new Promise((resolve) => setTimeout(resolve, 1500));
  server.hub.rollBack(disk);
  lead.sharing.now();
  await until(() => handedOut(server).length === 1, 'the new secret once more');
  await lead.press('case-1');
  server.hub.mend(away.id);
  await until(async () => (await away.entries('case-1')) === 1, 'what it seals');
});

it('what waits for a key that is nowhere is told', async () => {
  const server = testServer();
  const { lead, away } = await putOutUnheard(server);
  for (const { seq } of handedOut(server)) server.hub.erase('K', seq);
  await lead.press('case-1');
  await until(() => lead.state.owed === 0, 'the case to be given');
  server.hub.mend(away.id);
  const waits = () => away.state.refused.filter(({ code }) => code === 'no-key');
  await until(() => waits().length > 0, 'to be told');
  expect(waits().map(({ device }) => device)).toEqual([lead.id]);
  expect(await away.entries('case-1')).toBe(0);
});
