/**
 * A real server of the clinic's store for tests: the program is found or fetched as `npm run clinic` does it.
 * Without one, a suite of {@link serverSuite} is skipped and says so; on the machine that decides, it fails.
 */
import { cp, mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, it } from 'vitest';
import { type ClinicFolder, openFolder, writeOwn } from '../../src/cli/clinic/clinic-folder.ts';
import { type FoundServer, findServer } from '../../src/cli/clinic/find-server.ts';
import {
  freePort,
  makeStreams,
  nodeConnect,
  type RunningServer,
  startServer,
} from '../../src/cli/clinic/run-server.ts';
import { serverConfig } from '../../src/cli/clinic/server-config.ts';
import { newUserKey, tabletJwt } from '../../src/sync/accounts.ts';
import { openNatsStore } from '../../src/sync/nats-store.ts';
import type { ServerSeeds, StoreLogin } from '../../src/sync/server-keys.ts';
import type { ClinicStore } from '../../src/sync/store-types.ts';

const CACHE_DIR = fileURLToPath(
  new URL('../../node_modules/.cache/lutewatch/nats', import.meta.url),
);

/** Set by `npm test` where the surrounding machine says that it decides over a change. */
const mayNotSkip = (process.env['LUTEWATCH_CI'] ?? '') !== '';

/** The program, or null with a loud line on the terminal. */
export async function testServer(): Promise<FoundServer | null> {
  const found = await findServer({ cacheDir: CACHE_DIR, env: process.env });
  if (found.ok) return found.value;
  const { expected, came } = found.error;
  console.error(
    `\n!!! NO SERVER FOR THE TESTS OF THE STORE: expected ${expected}, got ${came} !!!\n`,
  );
  return null;
}

/** Like `describe`, for tests that need the server. They are counted as skipped where there is none. */
export async function serverSuite(
  name: string,
  body: (server: FoundServer) => void,
): Promise<void> {
  const server = await testServer();
  if (server !== null) describe(name, () => body(server));
  else if (mayNotSkip) {
    it(name, () => {
      throw new Error('There is no server for the tests of the store.');
    });
  } else it.skip(`${name}: no server`, () => undefined);
}

/** A login and the store that it opens. */
export interface TestTablet {
  readonly device: string;
  readonly user: string;
  readonly login: StoreLogin;
}

/** A clinic of its own on a real server, in a folder that goes with it. */
export interface TestClinic {
  readonly folder: ClinicFolder;
  readonly seeds: ServerSeeds;
  readonly site: string;
  /** Clients in Node. */
  readonly port: number;
  /** Pages. */
  readonly webSocketPort: number;
  readonly tablet: (device: string) => Promise<TestTablet>;
  readonly open: (login: StoreLogin, name: string) => ClinicStore;
  /** Ends the server at once, as a power cut does. */
  readonly kill: () => Promise<void>;
  /** Starts it again, at the same ports. */
  readonly start: () => Promise<void>;
  /** Stops (`SIGSTOP`) or goes on (`SIGCONT`): it holds every connection and answers nothing. */
  readonly signal: (signal: 'SIGSTOP' | 'SIGCONT') => void;
  /** The streams as they are on the disk, while the server is not running. Returns where the copy is. */
  readonly copyDisk: () => Promise<string>;
  readonly putDisk: (copy: string) => Promise<void>;
  readonly end: () => Promise<void>;
}

/** Sets a clinic up and starts its server. `storeBytes` is the most that it keeps. */
export async function startClinic(
  server: FoundServer,
  o: { readonly storeBytes?: number } = {},
): Promise<TestClinic> {
  const top = await mkdtemp(join(tmpdir(), 'lutewatch-clinic-'));
  const opened = await openFolder(join(top, 'clinic'));
  if (!opened.ok) throw new Error(JSON.stringify(opened.error));
  const folder = opened.value;
  const { dir, clinic, seeds } = folder;
  if (seeds === null) throw new Error('A new clinic has keys.');
  const [port, webSocketPort] = [await freePort(), await freePort()];
  const config = serverConfig({
    folder: dir,
    site: clinic.site,
    operatorJwt: clinic.operatorJwt,
    systemAccount: clinic.systemAccount,
    port,
    webSocketHost: '127.0.0.1',
    webSocketPort,
    storeBytes: o.storeBytes ?? 2_000_000_000,
    isDemo: server.isDemo,
  });
  await writeOwn(join(dir, 'server.conf'), config);
  let running: RunningServer | null = null;

  async function start(): Promise<void> {
    const started = await startServer({ path: server.path, folder: dir, port });
    if (!started.ok) throw new Error(JSON.stringify(started.error));
    running = started.value;
  }
  async function kill(): Promise<void> {
    const child = running?.child;
    running = null;
    if (child === undefined || child.exitCode !== null) return;
    const ended = new Promise((resolve) => child.once('exit', resolve));
    child.kill('SIGKILL');
    await ended;
  }

  await start();
  const made = await makeStreams({ port, login: clinic.builder });
  if (!made.ok) throw new Error(JSON.stringify(made.error));
  return {
    folder,
    seeds,
    site: clinic.site,
    port,
    webSocketPort,
    async tablet(device) {
      const { user, seed } = newUserKey();
      return { device, user, login: { jwt: await tabletJwt(seeds, { user, device }), seed } };
    },
    open: (login, name) =>
      openNatsStore({ address: `127.0.0.1:${port}`, login, name, connect: nodeConnect }),
    start,
    kill,
    signal: (signal) => running?.child.kill(signal),
    async copyDisk() {
      const copy = await mkdtemp(join(top, 'disk-'));
      await cp(join(dir, 'store'), copy, { recursive: true });
      return copy;
    },
    async putDisk(copy) {
      await rm(join(dir, 'store'), { recursive: true, force: true });
      await cp(copy, join(dir, 'store'), { recursive: true });
    },
    async end() {
      await kill();
      await rm(top, { recursive: true, force: true });
    },
  };
}
