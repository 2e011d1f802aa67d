/** What a store of a tablet does while the real server fails under it. */

import { expect, it } from 'vitest';
import { nodeConnect } from '../../src/cli/clinic/run-server.ts';
import { openNatsStore } from '../../src/sync/nats-store.ts';
import type { ClinicStore, StoredMessage, StoreLine } from '../../src/sync/store-types.ts';
import { hereSubject, liveSubject, subjectOf } from '../../src/sync/subjects.ts';
import { blackHole } from '../tools/black-hole.ts';
import { serverSuite, startClinic, type TestClinic } from '../tools/nats-server.ts';
import { bytes, done, failure, newDevice, opened, until } from './contract.ts';

const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));

const entryOf = (site: string, device: string, number: number, data = bytes(600)) => ({
  stream: 'J' as const,
  subject: subjectOf({ stream: 'J', site, device, item: 'case-1', number }, data),
  data,
});

/** Sends until it is known to be there, as an outbox does. Returns how often it was sent. */
async function putForSure(
  store: ClinicStore,
  message: Parameters<ClinicStore['put']>[0],
): Promise<number> {
  for (let times = 1; ; times += 1) {
    const result = await store.put(message);
    if (result.ok) return times;
    expect(['not-connected', 'no-answer']).toContain(result.error.code);
    await pause(50);
  }
}

async function everything(store: ClinicStore): Promise<readonly StoredMessage[]> {
  const read: StoredMessage[] = [];
  for (let seq = 1; ; ) {
    const next = await done(store.get({ stream: 'J', seq }));
    if (next === null) return read;
    read.push(next);
    seq = next.seq + 1;
  }
}

await serverSuite('a store while the server fails', (server) => {
  async function withClinic(
    run: (clinic: TestClinic) => Promise<void>,
    o: { readonly storeBytes?: number } = {},
  ): Promise<void> {
    const clinic = await startClinic(server, o);
    try {
      await run(clinic);
    } finally {
      await clinic.end();
    }
  }
  const member = async (clinic: TestClinic, device = newDevice()) => {
    const { login } = await clinic.tablet(device);
    return { device, login, store: await opened(clinic.open(login, device)) };
  };

  it('loses and doubles nothing while the server is killed again and again', () =>
    withClinic(async (clinic) => {
      const a = await member(clinic);
      const sent = Array.from({ length: 400 }, (_, at) => entryOf(clinic.site, a.device, at));
      let isOver = false;
      const killing = (async () => {
        for (let time = 0; time < 3 && !isOver; time += 1) {
          await pause(150);
          await clinic.kill();
          await pause(200);
          await clinic.start();
        }
      })();
      const waiting = [...sent];
      let times = 0;
      const turns = Array.from({ length: 8 }, async () => {
        for (let next = waiting.shift(); next !== undefined; next = waiting.shift()) {
          const needed = await putForSure(a.store, next);
          times += needed;
          await pause(5);
        }
      });
      await Promise.all(turns);
      isOver = true;
      // Some were sent into a server that was not there: else nothing was tried here.
      expect(times).toBeGreaterThan(sent.length);
      await killing;
      await until('a line again', () => lineOf(a.store) === 'open', 15_000);
      const kept = (await everything(a.store)).map(({ subject }) => subject);
      expect(kept).toHaveLength(400);
      expect(new Set(kept)).toEqual(new Set(sent.map(({ subject }) => subject)));
      await a.store.close();
    }));

  it('never waits or throws when it sends live, and sends nothing old after a cut', () =>
    withClinic(async (clinic) => {
      const [a, b] = [await member(clinic), await member(clinic)];
      const heard: number[] = [];
      b.store.live.subscribe('live.>', (_, data) => heard.push(data[0] ?? 0));
      await pause(100);
      const subject = liveSubject({ site: clinic.site, device: a.device, what: 'chair' });
      a.store.live.publish(subject, new Uint8Array([1]));
      await until('the first', () => heard.length === 1);
      await clinic.kill();
      await until('the loss', () => lineOf(a.store) === 'connecting');
      const startedAt = performance.now();
      for (let time = 0; time < 1000; time += 1) {
        a.store.live.publish(subject, new Uint8Array([2]));
      }
      expect(performance.now() - startedAt).toBeLessThan(500);
      expect(await failure(a.store.put(entryOf(clinic.site, a.device, 1)))).toBe('not-connected');
      await clinic.start();
      await until(
        'both again',
        () => [a, b].every(({ store }) => lineOf(store) === 'open'),
        15_000,
      );
      await pause(100);
      a.store.live.publish(subject, new Uint8Array([3]));
      // What was listened to before goes on by itself.
      await until('the new one', () => heard.includes(3));
      expect(heard).toEqual([1, 3]);
      await a.store.close();
      await b.store.close();
    }));

  it(
    'is back in under 10 s after a hole that swallowed everything',
    () =>
      withClinic(async (clinic) => {
        const hole = await blackHole(clinic.port);
        const device = newDevice();
        const { login } = await clinic.tablet(device);
        const address = `127.0.0.1:${hole.port}`;
        const store = await opened(
          openNatsStore({ address, login, name: device, connect: nodeConnect }),
        );
        await done(store.put(entryOf(clinic.site, device, 1)));
        hole.open();
        const openedAt = performance.now();
        const message = entryOf(clinic.site, device, 2);
        expect(await failure(store.put(message))).toBe('no-answer');
        await until('it knows', () => lineOf(store) === 'connecting', 10_000);
        const noticedMs = performance.now() - openedAt;
        expect(noticedMs).toBeLessThan(6000);
        await pause(2000);
        hole.close();
        const closedAt = performance.now();
        await until('a line again', () => lineOf(store) === 'open', 15_000);
        const backMs = performance.now() - closedAt;
        console.log(
          `black hole: noticed after ${Math.round(noticedMs)} ms, back ${Math.round(backMs)} ms after its end`,
        );
        expect(backMs).toBeLessThan(10_000);
        expect(await done(store.put(message))).toEqual({ fresh: true });
        await store.close();
        hole.end();
      }),
    60_000,
  );

  it(
    'leaves a server behind that is frozen, and comes back when it goes on',
    () =>
      withClinic(async (clinic) => {
        const a = await member(clinic);
        clinic.signal('SIGSTOP');
        await until('it knows', () => lineOf(a.store) === 'connecting', 10_000);
        clinic.signal('SIGCONT');
        const startedAt = performance.now();
        await until('a line again', () => lineOf(a.store) === 'open', 15_000);
        expect(performance.now() - startedAt).toBeLessThan(10_000);
        expect(await done(a.store.put(entryOf(clinic.site, a.device, 1)))).toEqual({ fresh: true });
        await a.store.close();
      }),
    60_000,
  );

  it('says that the store is full, and goes on reading', () =>
    withClinic(
      async (clinic) => {
        const a = await member(clinic);
        let code = 'ok';
        let kept = 0;
        for (let at = 0; at < 400 && code === 'ok'; at += 1) {
          code = await failure(a.store.put(entryOf(clinic.site, a.device, at, bytes(10_000))));
          if (code === 'ok') kept += 1;
        }
        expect(code).toBe('store-full');
        expect(kept).toBeGreaterThan(10);
        expect(await everything(a.store)).toHaveLength(kept);
        a.store.live.publish(hereSubject({ site: clinic.site, device: a.device }), bytes(5));
        await a.store.close();
      },
      { storeBytes: 1_000_000 },
    ));

  it(
    'shows an older disk as what it is: the same numbers, other messages',
    () =>
      withClinic(async (clinic) => {
        const a = await member(clinic);
        for (const at of [1, 2]) await done(a.store.put(entryOf(clinic.site, a.device, at)));
        await clinic.kill();
        const copy = await clinic.copyDisk();
        await clinic.start();
        await until('a line', () => lineOf(a.store) === 'open', 15_000);
        const lost = entryOf(clinic.site, a.device, 3);
        await done(a.store.put(lost));
        const cursor = await done(a.store.last('J'));
        expect(cursor).toMatchObject({ seq: 3, subject: lost.subject });
        await clinic.kill();
        await clinic.putDisk(copy);
        await clinic.start();
        await until('a line again', () => lineOf(a.store) === 'open', 15_000);
        expect(await done(a.store.get({ stream: 'J', seq: 3 }))).toBeNull();
        const other = entryOf(clinic.site, a.device, 4);
        await done(a.store.put(other));
        expect(await done(a.store.get({ stream: 'J', seq: 3 }))).toMatchObject({
          subject: other.subject,
        });
        // What was lost can be offered again, and is new to it.
        expect(await done(a.store.put(lost))).toEqual({ fresh: true });
        await a.store.close();
      }),
    60_000,
  );
});

function lineOf(store: ClinicStore): StoreLine {
  let line: StoreLine = 'closed';
  store.onLine((now) => {
    line = now;
  })();
  return line;
}
