/** What was begun between two tablets and broken off in the middle comes to its end all the same. */
import { expect, it, vi } from 'vitest';
import { Engine } from '../../src/runtime/sharing/engine.ts';
import { until } from './clinic.ts';
import { founded, letIn, PASSPHRASE, tablet } from './facade-clinic.ts';
import { testServer } from './facade-tablet.ts';

it('a tablet that was let in makes itself known where the lead did not hear of its end', async () => {
  const server = testServer();
  const lead = await founded(server);
  const other = await tablet(server);
  const inviting = await lead.sharing.invite({ passphrase: PASSPHRASE });
  if (!inviting.ok) throw new Error(inviting.error.code);
  const { code } = inviting.value.state.getState();
  const joining = await other.sharing.join({ code: code ?? '', name: 'Chair 2' });
  if (!joining.ok) throw new Error(joining.error.code);
  await until(() => inviting.value.state.getState().step === 'compare', 'the digits');
  await until(() => joining.value.state.getState().step === 'compare', 'the digits there');
  await inviting.value.confirm();
  // The lead's page is left before the other end says that it is done.
  inviting.value.stop();
  await until(() => other.state.standing === 'paired', 'to be let in');
  expect(inviting.value.state.getState().step).toBe('failed');
  await other.press('case-1');
  await until(async () => (await lead.entries('case-1')) === 1, 'its case');
  await until(() => lead.state.tablets.length === 2, 'its row');
});

it('a put-out that was broken off before the keys were turned is begun again', async () => {
  const server = testServer();
  const lead = await founded(server);
  const other = await letIn(server, { lead, name: 'Chair 2' });
  const stays = await letIn(server, { lead, name: 'Chair 3' });
  await lead.press('case-1');
  await until(async () => (await stays.entries('case-1')) === 1, 'the case');
  await until(() => lead.state.tablets.length === 3, 'three rows');
  const standing = () => lead.state.tablets.find(({ device }) => device === other.id)?.standing;
  const turning = vi.spyOn(Engine.prototype, 'turnKeys').mockRejectedValueOnce(new Error('gone'));
  const out = { device: other.id, reason: 'lost', passphrase: PASSPHRASE };
  const broken = await lead.sharing.putOut(out);
  turning.mockRestore();
  expect(broken.ok ? null : broken.error.code).toBe('not-kept');
  await new Promise((resolve) => setTimeout(resolve, 1500));
  // Its row still offers to put it out.
  expect(standing()).toBe('paired');
  expect((await lead.sharing.putOut(out)).ok).toBe(true);
  await until(() => standing() === 'put-out', 'to be out');
  const keys = () => server.hub.messages('K').map(({ subject }) => subject.split('.')[3]);
  await until(() => keys().includes('clinic'), 'the new secret');
  // What is new of a case that goes on is sealed with a key that the lost tablet never had.
  const before = keys().filter((item) => item === 'case-1').length;
  await lead.press('case-1');
  await until(async () => (await stays.entries('case-1')) === 2, 'the case to go on');
  expect(keys().filter((item) => item === 'case-1')).toHaveLength(before + 1);
});
