/** A case that lies on the store alone, on a real server: fetched when it is opened, kept when the server is gone. */
import { afterEach, beforeEach, expect, it } from 'vitest';
import { present } from '../../src/base/assert.ts';
import type { StoreLogin } from '../../src/sync/server-keys.ts';
import { serverSuite, startClinic, type TestClinic } from '../tools/nats-server.ts';
import { type Clinic, clinic, paired, TestTablet, until } from './clinic.ts';
import { closedOn, longAfter, storeOnlyIds } from './old-cases.ts';

await serverSuite('an old case on a real server', (server) => {
  let on: TestClinic;
  let of: Clinic;
  let tablets: TestTablet[] = [];
  const logins = new Map<string, StoreLogin>();

  beforeEach(async () => {
    on = await startClinic(server);
    const open = (device: string) => on.open(present(logins.get(device), 'a login'), device);
    of = await clinic(open, on.site);
  });
  afterEach(async () => {
    for (const tablet of tablets) await tablet.off();
    tablets = [];
    await on.end();
  });

  async function tablet(name: string): Promise<TestTablet> {
    logins.set(name, (await on.tablet(name)).login);
    const made = new TestTablet(of, await paired(of, name));
    longAfter(made);
    tablets.push(await made.on());
    return made;
  }

  it('is a line without entries, and whole once it is opened', async () => {
    const a = await tablet('a');
    await closedOn(a, 'case-1');
    await until(() => a.engine.isShared, 'all to be shared');
    const b = await tablet('b');
    await until(async () => (await storeOnlyIds(b)).length === 1, 'the line');
    await until(
      () => b.engine.isShared && b.engine.storeOnly.state.count === 1,
      'the end of the store',
    );
    expect(await b.entries('case-1')).toEqual([]);
    await on.kill();
    const away = await b.engine.bringHere('case-1', () => undefined);
    expect(away.ok).toBe(false);
    expect(await storeOnlyIds(b)).toEqual(['case-1']);
    await on.start();
    await until(async () => (await b.engine.bringHere('case-1', () => undefined)).ok, 'the case');
    expect(await b.entries('case-1')).toEqual(await a.entries('case-1'));
    expect(await storeOnlyIds(b)).toEqual([]);
  });
});
