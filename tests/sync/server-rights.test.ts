/**
 * What the real server lets each kind of user do. Everything is asked of the server itself, by a client that
 * keeps to no rule of ours.
 */
import { randomUUID } from 'node:crypto';
import { encodeUser } from '@nats-io/jwt';
import { jwtAuthenticator, type Msg, type NatsConnection } from '@nats-io/nats-core';
import { afterAll, beforeAll, expect, it, vi } from 'vitest';
import { nodeConnect } from '../../src/cli/clinic/run-server.ts';
import {
  keeperLogin,
  newServerSeeds,
  newUserKey,
  stewardLogin,
  tabletJwt,
} from '../../src/sync/accounts.ts';
import { putOutAtServer } from '../../src/sync/put-out-at-server.ts';
import type { StoreLogin } from '../../src/sync/server-keys.ts';
import { STREAMS, type StreamName } from '../../src/sync/store-types.ts';
import { subjectOf } from '../../src/sync/subjects.ts';
import { serverSuite, startClinic, type TestClinic } from '../tools/nats-server.ts';
import { bytes, done, failure, newDevice, opened } from './contract.ts';
import { putOutUser } from './nats-clinic.ts';

const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));

interface RawClient {
  readonly connection: NatsConnection;
  /** What the server refused, as it said it. */
  readonly refused: string[];
}

async function raw(port: number, login: StoreLogin, name: string): Promise<RawClient> {
  const connection = await nodeConnect({
    servers: `127.0.0.1:${port}`,
    authenticator: jwtAuthenticator(login.jwt, new TextEncoder().encode(login.seed)),
    inboxPrefix: `_INBOX.${name}`,
    reconnect: false,
  });
  const refused: string[] = [];
  void (async () => {
    for await (const status of connection.status()) {
      if (status.type === 'error') refused.push(status.error.message);
    }
  })();
  return { connection, refused };
}

/** What the server said to one message, before it answered a ping that was sent after it. */
async function said({ connection, refused }: RawClient, act: () => void): Promise<string> {
  const before = refused.length;
  act();
  await connection.flush();
  await pause(20);
  return refused.slice(before).join('; ');
}

await serverSuite('what the server lets each user do', (server) => {
  let clinic: TestClinic;
  const [a, b] = [newDevice(), newDevice()];
  let tablet: RawClient;
  const open: NatsConnection[] = [];
  const clientOf = async (login: StoreLogin, name: string): Promise<RawClient> => {
    const client = await raw(clinic.port, login, name);
    open.push(client.connection);
    return client;
  };

  beforeAll(async () => {
    clinic = await startClinic(server);
    tablet = await clientOf((await clinic.tablet(a)).login, a);
    const fact = place('F', b);
    const store = await opened(clinic.open((await clinic.tablet(b)).login, b));
    await done(store.put(fact));
    await store.close();
  });
  afterAll(async () => {
    for (const connection of open) await connection.close();
    await clinic?.end();
  });

  const place = (stream: StreamName, device: string, data = bytes(40)) => ({
    stream,
    subject: subjectOf(
      { stream, site: clinic.site, device, item: 'thing', number: stream === 'F' ? null : 1 },
      data,
    ),
    data,
  });
  const lastSubject = async (stream: StreamName): Promise<string> => {
    const question = JSON.stringify({ last_by_subj: '>' });
    const answer = await tablet.connection.request(`$JS.API.DIRECT.GET.${stream}`, question);
    return answer.headers?.get('Nats-Subject') ?? '';
  };

  it('refuses a tablet every branch but its own, and every call but reading one message', async () => {
    const subjects = [
      ...STREAMS.map((stream) => place(stream, b).subject),
      `j.other-site.${a}.case.1.0123456789abcdef`,
      `live.${clinic.site}.${b}.chair`,
      `here.${clinic.site}.${b}`,
      `r.f.${clinic.site}.${b}.lot.0123456789abcdef`,
      `_INBOX.${b}.answer`,
      'pair.1.lead',
      ...STREAMS.flatMap((stream) =>
        ['INFO', 'DELETE', 'PURGE', 'UPDATE', 'CREATE', 'MSG.DELETE', 'MSG.GET', 'SNAPSHOT'].map(
          (call) => `$JS.API.STREAM.${call}.${stream}`,
        ),
      ),
      ...STREAMS.map((stream) => `$JS.API.CONSUMER.CREATE.${stream}`),
      '$JS.API.STREAM.NAMES',
      '$JS.API.INFO',
      '$SYS.REQ.CLAIMS.UPDATE',
      '$SYS.REQ.SERVER.PING',
      '>',
    ];
    for (const subject of subjects) {
      const words = await said(tablet, () => tablet.connection.publish(subject, bytes(20)));
      expect(words, subject).toMatch(/permissions violation for publish/i);
    }
    const own = place('F', a);
    expect(await said(tablet, () => tablet.connection.publish(own.subject, own.data))).toBe('');
    expect(await lastSubject('F')).toBe(own.subject);
  });

  it('refuses a tablet to hear what is not for it', async () => {
    const subjects = [
      '>',
      '*',
      `_INBOX.${b}.>`,
      '_INBOX.>',
      'j.>',
      'f.>',
      'k.>',
      'pair.>',
      '$SYS.>',
    ];
    for (const subject of subjects) {
      const words = await said(tablet, () => tablet.connection.subscribe(subject));
      expect(words, subject).toMatch(/permissions violation for subscription/i);
    }
    for (const subject of ['live.>', 'here.>', 'r.>', `_INBOX.${a}.>`]) {
      expect(await said(tablet, () => tablet.connection.subscribe(subject)), subject).toBe('');
    }
  });

  it("keeps no answer in another tablet's branch, named as the place for it", async () => {
    const reply = place('F', b).subject;
    const before = await lastSubject('F');
    const own = place('F', a);
    await said(tablet, () => tablet.connection.publish(own.subject, own.data, { reply }));
    await said(tablet, () =>
      tablet.connection.publish('$JS.API.DIRECT.GET.F', JSON.stringify({ seq: 1 }), { reply }),
    );
    await pause(200);
    expect(before).not.toBe(own.subject);
    expect(await lastSubject('F')).toBe(own.subject);
  });

  it("would keep it there in an account of the store's own: why tablets have another", async () => {
    const { user, seed } = newUserKey();
    const jwt = await encodeUser('inside', user, clinic.seeds.storeSeed, {
      pub: { allow: [`f.${clinic.site}.inside.>`] },
      sub: { allow: ['_INBOX.inside.>'] },
    });
    const inside = await clientOf({ jwt, seed }, 'inside');
    const reply = place('F', b).subject;
    const own = place('F', 'inside');
    expect(
      await said(inside, () => inside.connection.publish(own.subject, own.data, { reply })),
    ).toBe('');
    await pause(200);
    expect(await lastSubject('F')).toBe(reply);
  });

  it('lets a user who pairs do only that', async () => {
    const pairing = await clientOf(clinic.folder.clinic.pairing, 'pairing');
    const subjects = [
      place('F', 'pairing').subject,
      '$JS.API.DIRECT.GET.F',
      `live.${clinic.site}.pairing.chair`,
      `_INBOX.${a}.x`,
    ];
    for (const subject of subjects) {
      const words = await said(pairing, () => pairing.connection.publish(subject, bytes(20)));
      expect(words, subject).toMatch(/permissions violation for publish/i);
    }
    for (const subject of ['r.>', 'live.>', '_INBOX.>', '>']) {
      const words = await said(pairing, () => pairing.connection.subscribe(subject));
      expect(words, subject).toMatch(/permissions violation for subscription/i);
    }
    const heard: Msg[] = [];
    pairing.connection.subscribe('pair.>', {
      callback: (_, message) => void heard.push(message),
    });
    expect(await said(pairing, () => pairing.connection.publish('pair.1.new', bytes(5)))).toBe('');
    expect(heard.map(({ subject }) => subject)).toEqual(['pair.1.new']);
  });

  it('lets the keeper erase entries and keys, and no facts, and no stream', async () => {
    const keeper = await clientOf(await keeperLogin(clinic.seeds), 'keeper');
    for (const call of [
      'STREAM.MSG.DELETE.F',
      'STREAM.DELETE.J',
      'STREAM.PURGE.J',
      'STREAM.UPDATE.J',
    ]) {
      const words = await said(keeper, () => keeper.connection.publish(`$JS.API.${call}`, '{}'));
      expect(words, call).toMatch(/permissions violation for publish/i);
    }
    const key = place('K', a);
    await tablet.connection.request(key.subject, key.data);
    expect(await lastSubject('K')).toBe(key.subject);
    const answer = await keeper.connection.request('$JS.API.STREAM.MSG.DELETE.K', '{"seq":1}');
    expect(JSON.parse(answer.string())).toMatchObject({ success: true });
    expect(await lastSubject('K')).toBe('');
  });

  it('lets nobody in with a user that another clinic, or nobody, vouches for', async () => {
    const { user, seed } = newUserKey();
    const device = newDevice();
    const strangers = [
      await tabletJwt(newServerSeeds(), { user, device }),
      // Its own name beside a foreign signature.
      await tabletJwt(
        { ...newServerSeeds(), tabletsSeed: clinic.seeds.tabletsSeed },
        { user, device },
      ),
    ];
    for (const jwt of strangers) {
      await expect(raw(clinic.port, { jwt, seed }, device)).rejects.toThrow(/authorization/i);
    }
    // And one that is vouched for, with the seed of another user.
    const jwt = await tabletJwt(clinic.seeds, { user, device });
    const login = { jwt, seed: newUserKey().seed };
    await expect(raw(clinic.port, login, device)).rejects.toThrow(/authorization/i);
    const let_in = await raw(clinic.port, { jwt, seed }, device);
    await let_in.connection.close();
  });

  it('puts one tablet out after another, and does not forget the first', async () => {
    const tablets = [await clinic.tablet(newDevice()), await clinic.tablet(newDevice())];
    for (const { user, device, login } of tablets) {
      const client = await clientOf(login, device);
      const startedAt = performance.now();
      await putOutUser(clinic, user);
      await Promise.race([client.connection.closed(), pause(10_000)]);
      expect(client.connection.isClosed()).toBe(true);
      expect(client.refused.join()).toMatch(/revoked|authorization/i);
      expect(performance.now() - startedAt).toBeLessThan(10_000);
    }
    for (const { device, login } of tablets) {
      await expect(raw(clinic.port, login, device)).rejects.toThrow(/authorization/i);
    }
    // The server has it on its disk: killed and back, it lets them in no more than before.
    await clinic.kill();
    await clinic.start();
    for (const { device, login } of tablets) {
      await expect(raw(clinic.port, login, device)).rejects.toThrow(/authorization/i);
    }
    tablet = await clientOf((await clinic.tablet(a)).login, a);
    const own = place('F', a);
    await tablet.connection.request(own.subject, own.data);
  }, 60_000);

  it.each([
    ['five years behind', -5],
    ['five years ahead', 5],
  ])(
    'lets tablets in and puts them out by a clock that is %s',
    async (_, years) => {
      const other = await startClinic(server);
      const clock = Date.now.bind(Date);
      const off = vi
        .spyOn(Date, 'now')
        .mockImplementation(() => clock() + years * 365.25 * 86_400_000);
      const [one, two] = [await other.tablet(newDevice()), await other.tablet(newDevice())];
      off.mockRestore();
      const clients = [
        await raw(other.port, one.login, one.device),
        await raw(other.port, two.login, two.device),
      ];
      // The first by the wrong clock, the second by the right one, and a third by the wrong one again.
      const third = await other.tablet(newDevice());
      vi.spyOn(Date, 'now').mockImplementation(() => clock() + years * 365.25 * 86_400_000);
      await putOutUser(other, one.user);
      vi.mocked(Date.now).mockRestore();
      await putOutUser(other, two.user);
      vi.spyOn(Date, 'now').mockImplementation(() => clock() + years * 365.25 * 86_400_000);
      await putOutUser(other, third.user);
      vi.mocked(Date.now).mockRestore();
      for (const { connection } of clients) {
        await Promise.race([connection.closed(), pause(10_000)]);
        expect(connection.isClosed()).toBe(true);
      }
      for (const { login, device } of [one, two, third]) {
        await expect(raw(other.port, login, device)).rejects.toThrow(/authorization/i);
      }
      await other.kill();
      await other.start();
      for (const { login, device } of [one, two, third]) {
        await expect(raw(other.port, login, device)).rejects.toThrow(/authorization/i);
      }
      const in_ = await other.tablet(newDevice());
      await (await raw(other.port, in_.login, in_.device)).connection.close();
      await other.end();
    },
    60_000,
  );

  it('takes the word of nobody but the operator for who is out', async () => {
    const { user, device, login } = await clinic.tablet(newDevice());
    const forged = { ...newServerSeeds(), tabletsSeed: clinic.seeds.tabletsSeed };
    const address = `127.0.0.1:${clinic.port}`;
    const put = (seeds: typeof forged) =>
      putOutAtServer(seeds, { address, connect: nodeConnect, site: clinic.site, users: [user] });
    // Another system account does not come in at all.
    expect(await failure(put(forged))).toBe('not-connected');
    // The word of another operator under the right one: the server files it, and does not believe it.
    await put({ ...forged, systemSeed: clinic.seeds.systemSeed });
    const client = await clientOf(login, device);
    expect(
      await said(client, () => client.connection.publish(place('F', device).subject, '')),
    ).toBe('');
    // The next word of the right operator takes its place, on the disk too.
    await putOutUser(clinic, newUserKey().user);
    await clinic.kill();
    await clinic.start();
    await (await raw(clinic.port, login, device)).connection.close();
    const steward = await clientOf(await stewardLogin(clinic.seeds), 'steward');
    for (const subject of [
      '$SYS.REQ.SERVER.PING',
      '$SYS.REQ.CLAIMS.DELETE',
      place('F', a).subject,
    ]) {
      const words = await said(steward, () => steward.connection.publish(subject, ''));
      expect(words, subject).toMatch(/permissions violation for publish/i);
    }
  });

  it('reaches nothing of another clinic on a server of its own', async () => {
    const other = await startClinic(server);
    const id = randomUUID();
    const theirs = await other.tablet(id);
    await expect(raw(clinic.port, theirs.login, id)).rejects.toThrow(/authorization/i);
    await other.end();
  });
});
