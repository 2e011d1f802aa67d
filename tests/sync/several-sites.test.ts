/**
 * Two clinics joined to a hub, on real servers. Each keeps its own; the hub has a copy of cases and facts, and no
 * key. A link that lets everything through is the trap: there the store of another site answers.
 */
import type { Msg, NatsConnection } from '@nats-io/nats-core';
import { expect, it } from 'vitest';
import { problemLine } from '../../src/base/problem.ts';
import { clinicArguments } from '../../src/cli/clinic/clinic-arguments.ts';
import { linkPath, readLink } from '../../src/cli/clinic/hub-folder.ts';
import { makeStreams } from '../../src/cli/clinic/run-server.ts';
import { newUserKey } from '../../src/sync/accounts.ts';
import { readPut } from '../../src/sync/nats-answers.ts';
import { openNatsStore } from '../../src/sync/nats-store.ts';
import type { ClinicStore, StoredMessage } from '../../src/sync/store-types.ts';
import { type Place, subjectOf } from '../../src/sync/subjects.ts';
import { serverSuite } from '../tools/nats-server.ts';
import { isLong } from '../tools/run-size.ts';
import { bytes, done, failure, opened } from './contract.ts';
import { eraseAt } from './nats-clinic.ts';
import { type SeveralSites, severalSites, type TestSite } from './several-sites.ts';

const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));

const DEVICE = 'tablet-1';

const entryOf = (
  site: string,
  number: number,
  stream: Place['stream'] = 'J',
  data = bytes(600),
) => {
  const place = { stream, site, device: DEVICE, item: 'case-1' };
  return {
    stream,
    subject: subjectOf({ ...place, number: stream === 'F' ? null : number }, data),
    data,
  };
};
type Entry = ReturnType<typeof entryOf>;

async function everything(
  store: ClinicStore,
  stream: Place['stream'] = 'J',
): Promise<readonly StoredMessage[]> {
  const read: StoredMessage[] = [];
  for (let seq = 1; ; ) {
    const next = await done(store.get({ stream, seq }));
    if (next === null) return read;
    read.push(next);
    seq = next.seq + 1;
  }
}

/** Hands over until all is there, 16 at a time. Returns which answers came, by their code. */
async function handOver(store: ClinicStore, entries: readonly Entry[]) {
  const codes: Record<string, number> = {};
  const waiting = [...entries];
  await Promise.all(
    Array.from({ length: 16 }, async () => {
      for (let next = waiting.shift(); next !== undefined; next = waiting.shift()) {
        const result = await store.put(next);
        const code = result.ok ? (result.value.fresh ? 'fresh' : 'there') : result.error.code;
        codes[code] = (codes[code] ?? 0) + 1;
        if (result.ok) continue;
        waiting.push(next);
        await pause(5);
      }
    }),
  );
  return codes;
}

const namesOf = (messages: readonly { readonly subject: string }[]): readonly string[] =>
  messages.map(({ subject }) => subject).toSorted();

/** How many messages a stream has, as `$JS.API` says it. */
async function stateInHub(on: SeveralSites, site: TestSite, stream: string) {
  const connection = await on.inHub(site);
  const answer = await connection.request(`$JS.API.STREAM.INFO.${stream}`, '', { timeout: 5000 });
  await connection.close();
  const read = answer.json<{ readonly state?: { readonly messages: number } }>();
  return read.state?.messages ?? null;
}

async function linked(site: TestSite): Promise<void> {
  const connection = await site.anySubject();
  for (let time = 0; time < 400; time += 1) {
    // The hub's own domain answers only over the link.
    const answer = await connection.request('$JS.hub.API.INFO', '').catch(() => null);
    if (answer !== null) return connection.close();
    await pause(10);
  }
  throw new Error('The link did not come.');
}

it('says what is wrong with what a hub is asked for', async () => {
  const asked = async (...args: readonly string[]) => {
    const read = await clinicArguments(['--dir', '/tmp/a-hub', ...args], '/nowhere');
    return read.ok ? 'ok' : problemLine(read.error);
  };
  expect(await asked('--copies', '0a1b2c3d4e,5f5f5f5f5f')).toBe('ok');
  expect(await asked('--hub', 'a.json')).toBe('ok');
  expect(await asked('--copies', 'Nord')).toBe(
    '--copies: expected ids of clinics like 0a1b2c3d4e, with commas between, got "Nord"',
  );
  expect(await asked('--copies', '0a1b2c3d4e', '--hub', 'a.json')).toMatch(/^--hub: expected no/);
  expect(await asked('--copies', '0a1b2c3d4e', '--host', '0.0.0.0')).toMatch(/^--host: expected/);
});

/** The hub has what it is sent delivered under names that would do something at the site. */
async function triesToReachIn(on: SeveralSites, site: TestSite): Promise<void> {
  const hub = await on.inHub(site);
  const names = [
    '$JS.API.STREAM.PURGE.J',
    `$JS.${site.site}.API.STREAM.PURGE.J`,
    `k.${site.site}.${DEVICE}.case-1.1.0123456789abcdef`,
  ];
  for (const name of names) {
    // A server delivers only where somebody listens to this very name.
    hub.subscribe(name, { callback: () => undefined });
    await hub.flush();
    const config = { deliver_subject: name, headers_only: true, ack_policy: 'none' };
    const made = await hub.request(
      `$JS.${site.site}.API.CONSUMER.CREATE.J`,
      JSON.stringify({ stream_name: 'J', config }),
    );
    expect(made.string()).toContain('consumer_create_response');
  }
  await pause(1500);
  await hub.close();
}

/** As much of an answer as is read. */
const answer = (value: object, code = 0) =>
  ({ string: () => JSON.stringify(value), headers: { code, get: () => '' } }) as unknown as Msg;
const IS_WRITTEN = { err_code: 10077, description: 'maximum messages per subject exceeded' };

it('looks up what a store says it has, since it does not say whose store that is', async () => {
  const asked: string[] = [];
  const connection = {
    close: () => Promise.resolve(),
    closed: () => new Promise(() => undefined),
    flush: () => Promise.resolve(),
    status: () => [],
    request(subject: string) {
      asked.push(subject);
      const isPut = subject.startsWith('j.');
      // Another site has it; the own store says that it finds nothing.
      const said = isPut ? answer({ stream: 'J', seq: 0, error: IS_WRITTEN }) : answer({}, 404);
      return Promise.resolve(said);
    },
  } as unknown as NatsConnection;
  const store = openNatsStore({
    address: 'a',
    login: { jwt: 'jwt', seed: newUserKey().seed },
    name: DEVICE,
    connect: () => Promise.resolve(connection),
  });
  await opened(store);
  const entry = entryOf('aaaa', 1);
  expect(await failure(store.put(entry))).toBe('no-answer');
  expect(asked).toEqual([entry.subject, '$JS.API.DIRECT.GET.J']);
  await store.close();
});

it('takes no acknowledgement of another site, nor of another stream', () => {
  const codeOf = (value: object) => {
    const read = readPut(answer(value), { stream: 'J', site: 'aaaa' });
    return read.ok ? 'ok' : read.error.code;
  };
  expect(codeOf({ stream: 'J', seq: 1, domain: 'aaaa' })).toBe('ok');
  // A server that stands alone has no domain.
  expect(codeOf({ stream: 'J', seq: 1 })).toBe('ok');
  expect(codeOf({ stream: 'J', seq: 1, domain: 'bbbb' })).toBe('wrong-store');
  expect(codeOf({ stream: 'J', seq: 1, domain: 'hub' })).toBe('wrong-store');
  expect(codeOf({ stream: 'F', seq: 1, domain: 'aaaa' })).toBe('wrong-store');
  expect(codeOf({ stream: 'J', seq: 0, domain: 'bbbb', error: IS_WRITTEN })).toBe('wrong-store');
});

await serverSuite('several sites', (server) => {
  async function withSites(
    o: { readonly isTrap: boolean },
    run: (on: SeveralSites) => Promise<void>,
  ): Promise<void> {
    const on = await severalSites(server, o);
    try {
      for (const site of on.sites) await linked(site);
      await run(on);
    } finally {
      await on.end();
    }
  }

  it(
    'keeps one subject at two sites apart, and lets the hub neither see keys nor change anything',
    () =>
      withSites({ isTrap: false }, async (on) => {
        const [a, b] = on.sites;
        const one = entryOf(a.site, 1);
        const [fromA, fromB] = [await a.anySubject(), await b.anySubject()];
        for (const [site, connection] of [
          [a, fromA],
          [b, fromB],
        ] as const) {
          const said = (await connection.request(one.subject, one.data)).json();
          expect(said).toEqual({ stream: 'J', domain: site.site, seq: 1 });
        }
        const hub = await on.inHub(a);
        for (const [call, body] of [
          ['STREAM.INFO.K', ''],
          ['STREAM.DELETE.J', ''],
          ['STREAM.PURGE.J', ''],
          ['STREAM.MSG.GET.K', '{"seq":1}'],
          ['STREAM.MSG.DELETE.J', '{"seq":1}'],
          ['DIRECT.GET.K', '{"seq":1}'],
          ['CONSUMER.CREATE.K', '{"stream_name":"K","config":{"deliver_subject":"x"}}'],
        ] as const) {
          const asked = hub.request(`$JS.${a.site}.API.${call}`, body, { timeout: 500 });
          await expect(asked, call).rejects.toThrow(/no responders/);
        }
        await expect(hub.request(entryOf(a.site, 2).subject, 'x')).rejects.toThrow(/no responders/);
        const wrong = await readLink(linkPath(on.hubDir, b.site), a.site);
        expect(!wrong.ok && problemLine(wrong.error)).toMatch(
          `--hub: expected a file that the hub wrote for this clinic, ${a.site}, got "${b.site}"`,
        );
        for (const connection of [fromA, fromB, hub]) await connection.close();
        for (const site of on.sites) {
          const store = await opened(await site.open(DEVICE));
          expect(namesOf(await everything(store))).toEqual([one.subject]);
          if (site === a) expect(await done(store.put(one))).toEqual({ fresh: false });
          await store.close();
        }
      }),
    30_000,
  );

  it.runIf(isLong)(
    'asks again when the store of another site answers, where the links let everything through',
    () =>
      withSites({ isTrap: true }, async (on) => {
        const [a, b] = on.sites;
        const [storeA, storeB] = [
          await opened(await a.open(DEVICE, { answerMs: 500 })),
          await opened(await b.open(DEVICE)),
        ];
        const builder = await a.anySubject();
        await builder.request('$JS.API.STREAM.DELETE.J');
        await builder.close();
        const entries = Array.from({ length: 100 }, (_, at) => entryOf(a.site, at));
        const answers = await Promise.all(entries.map((each) => storeA.put(each)));
        const codes = new Set(answers.map((each) => (each.ok ? 'ok' : each.error.code)));
        expect([...codes]).toEqual(['wrong-store']);
        // That it has them already is no better: of whom it is, such an answer does not say.
        const again = await Promise.all(entries.map((each) => storeA.put(each)));
        expect(again.filter(({ ok }) => ok)).toEqual([]);
        // That the trap was there: the other site keeps what is none of its business, and said so.
        expect(namesOf(await everything(storeB))).toEqual(namesOf(entries));
        const { port, folder } = a.running;
        await done(makeStreams({ port, login: folder.clinic.builder }));
        await handOver(storeA, entries);
        expect(namesOf(await everything(storeA))).toEqual(namesOf(entries));
        await storeA.close();
        await storeB.close();
      }),
    30_000,
  );

  it.runIf(isLong)(
    'loses and mixes nothing while both write; the hub follows, but for keys',
    () =>
      withSites({ isTrap: false }, async (on) => {
        const COUNT = 3000;
        const stores = await Promise.all(
          on.sites.map(async (site) => opened(await site.open(DEVICE))),
        );
        const written = on.sites.map(({ site }) => [
          ...Array.from({ length: COUNT }, (_, at) => entryOf(site, at)),
          ...Array.from({ length: 100 }, (_, at) => entryOf(site, at, 'F')),
          ...Array.from({ length: 100 }, (_, at) => entryOf(site, at, 'K')),
        ]);
        const startedAt = performance.now();
        const codes = await Promise.all(
          stores.map((store, n) => handOver(store, written[n] ?? [])),
        );
        const tookMs = performance.now() - startedAt;
        expect(codes).toEqual([{ fresh: COUNT + 200 }, { fresh: COUNT + 200 }]);
        for (const [n, store] of stores.entries()) {
          for (const stream of ['J', 'F', 'K'] as const) {
            const own = (written[n] ?? []).filter((each) => each.stream === stream);
            expect(namesOf(await everything(store, stream))).toEqual(namesOf(own));
          }
        }
        const states = async () => Promise.all(on.sites.map((site) => stateInHub(on, site, 'J')));
        for (let time = 0; time < 300; time += 1) {
          if ((await states()).every((count) => count === COUNT)) break;
          await pause(100);
        }
        const hubMs = performance.now() - startedAt;
        console.log(
          `2 sites: ${2 * (COUNT + 200)} in ${Math.round(tookMs)} ms; hub level after ${Math.round(hubMs)} ms`,
        );
        expect(await states()).toEqual([COUNT, COUNT]);
        const [a] = on.sites;
        expect(await stateInHub(on, a, 'F')).toBe(100);
        expect(await stateInHub(on, a, 'K')).toBeNull();
        await triesToReachIn(on, a);
        expect(await everything(stores[0] as ClinicStore)).toHaveLength(COUNT);
        expect(await everything(stores[0] as ClinicStore, 'K')).toHaveLength(100);
        // A copy keeps what is erased.
        for (const stream of ['J', 'K'] as const) {
          await eraseAt({ seeds: a.seeds, port: a.running.port }, stream, 1);
        }
        await pause(500);
        expect(await everything(stores[0] as ClinicStore, 'J')).toHaveLength(COUNT - 1);
        expect(await everything(stores[0] as ClinicStore, 'K')).toHaveLength(99);
        expect(await stateInHub(on, a, 'J')).toBe(COUNT);
        expect(on.said.join('\n')).toContain(linkPath(on.hubDir, a.site));
        for (const store of stores) await store.close();
      }),
    120_000,
  );
});
