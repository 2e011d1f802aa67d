/** A clinic that was founded as people do it, and tablets that were let in. */
import { afterEach, expect } from 'vitest';
import { until } from './clinic.ts';
import { FacadeTablet, type TestServer } from './facade-tablet.ts';

export const PASSPHRASE = 'a lead of the clinic';

let on: FacadeTablet[] = [];
afterEach(async () => {
  for (const tablet of on) await tablet.off();
  on = [];
});

export async function tablet(server: TestServer, id?: string): Promise<FacadeTablet> {
  const made = await new FacadeTablet(server, id).on();
  on.push(made);
  return made;
}

export async function founded(server: TestServer): Promise<FacadeTablet> {
  const lead = await tablet(server);
  const { code, digits } = await server.firstCode();
  const joining = await lead.sharing.join({ code, name: 'Chair 1' });
  if (!joining.ok) throw new Error(joining.error.code);
  const { state } = joining.value;
  await until(() => state.getState().step === 'done', 'the first pairing');
  expect(state.getState().founds).toBe(true);
  expect(state.getState().digits).toBe(digits());
  const done = await lead.sharing.found({ passphrase: PASSPHRASE });
  expect(done.ok).toBe(true);
  await until(() => lead.state.line === 'open' && lead.state.owed === 0, 'the founder to share');
  return lead;
}

export async function letIn(
  server: TestServer,
  o: { readonly lead: FacadeTablet; readonly name: string },
): Promise<FacadeTablet> {
  const other = await tablet(server);
  const inviting = await o.lead.sharing.invite({ passphrase: PASSPHRASE });
  if (!inviting.ok) throw new Error(inviting.error.code);
  const { code } = inviting.value.state.getState();
  const joining = await other.sharing.join({ code: code ?? '', name: o.name });
  if (!joining.ok) throw new Error(joining.error.code);
  const [here, there] = [inviting.value.state, joining.value.state];
  await until(() => here.getState().step === 'compare', 'the digits');
  await until(() => there.getState().step === 'compare', 'the digits there');
  expect(here.getState().digits).toBe(there.getState().digits);
  expect(here.getState().name).toBe(o.name);
  await inviting.value.confirm();
  await until(() => there.getState().step === 'done', 'to be let in');
  return other;
}
