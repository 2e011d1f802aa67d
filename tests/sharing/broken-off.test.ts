/** What was begun between two tablets and broken off in the middle comes to its end all the same. */
import { expect, it } from 'vitest';
import { until } from './clinic.ts';
import { founded, PASSPHRASE, tablet } from './facade-clinic.ts';
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
