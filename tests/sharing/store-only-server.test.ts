/** A case that lies on the store alone, on a real server: fetched when it is opened, kept when the server is gone. */
import { expect, it } from 'vitest';
import { serverSuite } from '../tools/nats-server.ts';
import { until } from './clinic.ts';
import { closedOn, longAfter, storeOnlyIds } from './old-cases.ts';
import { realTablets } from './real-tablets.ts';

await serverSuite('an old case on a real server', (server) => {
  const clinic = realTablets(server);

  it('is a line without entries, and whole once it is opened', async () => {
    const a = await clinic.tablet('a', longAfter);
    await closedOn(a, 'case-1');
    await until(() => a.engine.isShared, 'all to be shared');
    const b = await clinic.tablet('b', longAfter);
    await until(async () => (await storeOnlyIds(b)).length === 1, 'the line');
    await until(
      () => b.engine.isShared && b.engine.storeOnly.state.count === 1,
      'the end of the store',
    );
    expect(await b.entries('case-1')).toEqual([]);
    await clinic.on.kill();
    const away = await b.engine.bringHere('case-1', () => undefined);
    expect(away.ok).toBe(false);
    expect(await storeOnlyIds(b)).toEqual(['case-1']);
    await clinic.on.start();
    await until(async () => (await b.engine.bringHere('case-1', () => undefined)).ok, 'the case');
    expect(await b.entries('case-1')).toEqual(await a.entries('case-1'));
    expect(await storeOnlyIds(b)).toEqual([]);
  });
});
