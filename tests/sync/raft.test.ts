/** A store that three servers keep together, on one machine: the one that leads is killed while a tablet writes. */
import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { present } from '../../src/base/assert.ts';
import {
  freePort,
  nodeConnect,
  type RunningServer,
  startServer,
} from '../../src/cli/clinic/run-server.ts';
import { streamConfig } from '../../src/cli/clinic/server-config.ts';
import { newUserKey } from '../../src/sync/accounts.ts';
import { openNatsStore } from '../../src/sync/nats-store.ts';
import type { ClinicStore } from '../../src/sync/store-types.ts';
import { subjectOf } from '../../src/sync/subjects.ts';
import { serverSuite } from '../tools/nats-server.ts';
import { isLong } from '../tools/run-size.ts';
import { bytes, done, opened } from './contract.ts';

const COUNT = 12_000;
const WRITERS = 48;
const AWAY_MS = 4000;

const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));

interface Node {
  readonly name: string;
  readonly folder: string;
  readonly port: number;
  readonly routePort: number;
}

const configOf = (node: Node, all: readonly Node[]): string => `server_name: ${node.name}
listen: "127.0.0.1:${node.port}"
logfile: "${node.folder}/server.log"
jetstream { store_dir: "${node.folder}/store", max_mem: 0, max_file_store: 1000000000 }
cluster {
  name: hub
  listen: "127.0.0.1:${node.routePort}"
  routes: [ ${all.map(({ routePort }) => `"nats://127.0.0.1:${routePort}"`).join(', ')} ]
}
`;

interface Info {
  readonly state?: { readonly messages: number; readonly num_subjects: number };
  readonly cluster?: {
    readonly leader?: string;
    readonly replicas?: readonly {
      readonly name: string;
      readonly current: boolean;
      readonly lag?: number;
    }[];
  };
}

async function infoAt(node: Node): Promise<Info> {
  const connection = await nodeConnect({ servers: `127.0.0.1:${node.port}`, reconnect: false });
  const said = await connection.request('$JS.API.STREAM.INFO.J', '', { timeout: 3000 });
  await connection.close();
  return said.json<Info>();
}

/** Asks until it is as it should be; an election takes some seconds. */
async function untilIs<T>(
  what: string,
  ask: () => Promise<T>,
  is: (value: T) => boolean,
): Promise<T> {
  for (const end = performance.now() + 30_000; performance.now() < end; await pause(100)) {
    const value = await ask().catch(() => null);
    if (value !== null && is(value)) return value;
  }
  throw new Error(`It did not come to this: ${what}`);
}

async function makeStream(node: Node): Promise<boolean> {
  const connection = await nodeConnect({ servers: `127.0.0.1:${node.port}`, reconnect: false });
  const config = JSON.stringify({ ...streamConfig('J'), num_replicas: 3 });
  const said = await connection.request('$JS.API.STREAM.CREATE.J', config, { timeout: 5000 });
  await connection.close();
  return said.string().includes('"did_create":true');
}

/** Hands over every entry until the store says that it is there. Returns the longest wait and the repeats. */
async function writeAll(store: ClinicStore, subjects: string[]) {
  let next = 0;
  let repeats = 0;
  let longestMs = 0;
  const isOver = (): boolean => next >= COUNT;
  const writer = async (): Promise<void> => {
    while (!isOver()) {
      const number = next;
      next += 1;
      const data = bytes(600);
      const place = {
        stream: 'J',
        site: 's',
        device: 'd',
        item: `case-${number % 40}`,
        number,
      } as const;
      const subject = subjectOf(place, data);
      const startedAt = performance.now();
      while (!(await store.put({ stream: 'J', subject, data })).ok) {
        repeats += 1;
        await pause(50);
      }
      longestMs = Math.max(longestMs, performance.now() - startedAt);
      subjects.push(subject);
    }
  };
  await Promise.all(Array.from({ length: WRITERS }, writer));
  return { repeats, longestMs: Math.round(longestMs) };
}

await serverSuite('a store on three servers', (server) => {
  it.runIf(isLong)(
    'loses and doubles nothing when the server that leads is killed',
    async () => {
      const top = await mkdtemp(join(tmpdir(), 'lutewatch-raft-'));
      const nodes: Node[] = [];
      for (const name of ['n1', 'n2', 'n3']) {
        const folder = join(top, name);
        await mkdir(folder);
        nodes.push({ name, folder, port: await freePort(), routePort: await freePort() });
      }
      const running = new Map<string, RunningServer>();
      const start = async (node: Node): Promise<void> => {
        await writeFile(join(node.folder, 'server.conf'), configOf(node, nodes));
        running.set(node.name, await done(startServer({ path: server.path, ...node })));
      };
      try {
        for (const node of nodes) await start(node);
        const [first] = nodes as [Node, Node, Node];
        await untilIs(
          'a stream',
          () => makeStream(first),
          (is) => is,
        );
        const { cluster } = await untilIs(
          'a leader',
          () => infoAt(first),
          (info) => info.cluster?.leader !== undefined,
        );
        const leader = present(
          nodes.find(({ name }) => name === cluster?.leader),
          'a leader',
        );
        const other = present(
          nodes.find((node) => node !== leader),
          'a follower',
        );
        const store = await opened(
          openNatsStore({
            address: `127.0.0.1:${other.port}`,
            login: { jwt: '', seed: newUserKey().seed },
            name: 'd',
            connect: nodeConnect,
            answerMs: 2000,
          }),
        );
        const subjects: string[] = [];
        const startedAt = performance.now();
        const writing = writeAll(store, subjects);
        while (subjects.length < COUNT / 4) await pause(5);
        const atKill = subjects.length;
        const child = present(running.get(leader.name), 'the leader').child;
        const ended = new Promise((resolve) => child.once('exit', resolve));
        child.kill('SIGKILL');
        await ended;
        await pause(AWAY_MS);
        const atReturn = subjects.length;
        await start(leader);
        const told = await writing;
        const tookMs = Math.round(performance.now() - startedAt);
        const info = await untilIs(
          'three that agree',
          () => infoAt(other),
          ({ cluster: now }) =>
            now?.replicas?.length === 2 &&
            now.replicas.every((each) => each.current && (each.lag ?? 0) === 0),
        );
        const kept = new Set<string>();
        for (let seq = 1; ; ) {
          const message = await done(store.get({ stream: 'J', seq }));
          if (message === null) break;
          kept.add(message.subject);
          seq = message.seq + 1;
        }
        const lost = subjects.filter((subject) => !kept.has(subject)).length;
        console.log(
          `three servers: ${JSON.stringify({ written: subjects.length, lost, stored: info.state?.messages, tookMs, atKill, atReturn, leader: leader.name, leaderAfter: info.cluster?.leader, ...told })}`,
        );
        expect(lost).toBe(0);
        expect(info.state).toMatchObject({ messages: COUNT, num_subjects: COUNT });
        expect(info.cluster?.leader).not.toBe(leader.name);
        await store.close();
      } finally {
        for (const each of running.values()) await each.stop();
        await rm(top, { recursive: true, force: true });
      }
    },
    180_000,
  );
});
