/** Two clinics and a hub on this machine, set up and run as the command line does it. */
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { encodeUser, fromSeed } from '@nats-io/jwt';
import type { NatsConnection } from '@nats-io/nats-core';
import { present } from '../../src/base/assert.ts';
import { openFolder } from '../../src/cli/clinic/clinic-folder.ts';
import type { FoundServer } from '../../src/cli/clinic/find-server.ts';
import { linkPath } from '../../src/cli/clinic/hub-folder.ts';
import { type RunningClinic, runClinic } from '../../src/cli/clinic/run-clinic.ts';
import { hubConnection, type RunningHub, runHub } from '../../src/cli/clinic/run-hub.ts';
import {
  adminConnection,
  freePort,
  nodeConnect,
  startServer,
} from '../../src/cli/clinic/run-server.ts';
import { newUserKey, tabletJwt } from '../../src/sync/accounts.ts';
import { openNatsStore } from '../../src/sync/nats-store.ts';
import type { ServerSeeds, StoreLogin } from '../../src/sync/server-keys.ts';
import type { ClinicStore } from '../../src/sync/store-types.ts';
import { done } from './contract.ts';

export interface TestSite {
  readonly dir: string;
  readonly site: string;
  readonly seeds: ServerSeeds;
  readonly running: RunningClinic;
  readonly open: (device: string, o?: { readonly answerMs: number }) => Promise<ClinicStore>;
  /** One that may write every subject, from within the account of the streams: no tablet can be that. */
  readonly anySubject: () => Promise<NatsConnection>;
}

export interface SeveralSites {
  readonly hub: RunningHub;
  readonly hubDir: string;
  readonly sites: readonly [TestSite, TestSite];
  readonly said: readonly string[];
  readonly inHub: (site: TestSite) => Promise<NatsConnection>;
  readonly end: () => Promise<void>;
}

const ARGS = { port: null, host: '127.0.0.1', web: null, isYes: true, hub: null, copies: null };

/**
 * `isTrap`: one account of the hub for both, and links that let everything through, as a setup may have it that
 * was not written by the command line.
 */
export async function severalSites(
  server: FoundServer,
  { isTrap }: { readonly isTrap: boolean },
): Promise<SeveralSites> {
  const top = await mkdtemp(join(tmpdir(), 'lutewatch-sites-'));
  const said: string[] = [];
  const around = (name: string) => ({
    checkout: top,
    env: { NATS_SERVER_BIN: server.path, LUTEWATCH_STORE_FILE: join(top, `${name}.json`) },
    say: (line: string) => said.push(line),
    headers: {},
  });
  const [dirA, dirB, hubDir] = [join(top, 'a'), join(top, 'b'), join(top, 'hub')];
  const ids = [];
  for (const dir of [dirA, dirB]) ids.push((await done(openFolder(dir))).clinic.site);
  const hubArgs = { ...ARGS, dir: hubDir, port: await freePort() };
  let hub = await done(runHub(hubArgs, ids, around('hub')));
  if (isTrap) hub = await trapped(server, { hub, hubDir, ids });
  const ends = [hub.stop];
  const siteOf = async (dir: string): Promise<TestSite> => {
    const { site } = (await done(openFolder(dir))).clinic;
    const args = { ...ARGS, dir, hub: linkPath(hubDir, site) };
    let running = await done(runClinic(args, around(site)));
    if (isTrap) running = await withoutDenials(server, running);
    ends.push(running.stop);
    return siteWith(running);
  };
  const sites = [await siteOf(dirA), await siteOf(dirB)] as const;
  return {
    hub,
    hubDir,
    sites,
    said,
    inHub: ({ site }) => hubConnection({ port: hub.port, hub: hub.hub, site }),
    async end() {
      for (const end of ends.toReversed()) await end();
      await rm(top, { recursive: true, force: true });
    },
  };
}

function siteWith(running: RunningClinic): TestSite {
  const { folder, port } = running;
  const { site } = folder.clinic;
  const seeds = present(folder.seeds, 'keys of a new clinic');
  const logins = new Map<string, StoreLogin>();
  async function loginOf(device: string): Promise<StoreLogin> {
    const known = logins.get(device);
    if (known !== undefined) return known;
    const { user, seed } = newUserKey();
    const login = { jwt: await tabletJwt(seeds, { user, device }), seed };
    logins.set(device, login);
    return login;
  }
  return {
    dir: folder.dir,
    site,
    seeds,
    running,
    async open(device, o) {
      const login = await loginOf(device);
      const address = `127.0.0.1:${port}`;
      return openNatsStore({ address, login, name: device, connect: nodeConnect, ...o });
    },
    async anySubject() {
      const { user, seed } = newUserKey();
      const key = fromSeed(new TextEncoder().encode(seeds.storeSeed));
      return adminConnection({
        port,
        login: { jwt: await encodeUser('any', user, key), seed },
        name: 'any',
      });
    },
  };
}

/** Starts a server again with another configuration at the same ports. */
async function startedWith(
  server: FoundServer,
  o: { readonly folder: string; readonly port: number; readonly change: (text: string) => string },
) {
  const path = join(o.folder, 'server.conf');
  const text = await readFile(path, 'utf8');
  const changed = o.change(text);
  if (changed === text) throw new Error('The configuration did not change.');
  await writeFile(path, changed);
  return done(startServer({ path: server.path, folder: o.folder, port: o.port }));
}

async function withoutDenials(server: FoundServer, running: RunningClinic): Promise<RunningClinic> {
  await running.stop();
  const { port, folder } = running;
  const change = (text: string) => text.replaceAll(/^ {4}deny_.*\n/gm, '');
  const { stop } = await startedWith(server, { folder: folder.dir, port, change });
  return { ...running, stop };
}

/** One account for all sites. */
async function trapped(
  server: FoundServer,
  o: { readonly hub: RunningHub; readonly hubDir: string; readonly ids: readonly string[] },
): Promise<RunningHub> {
  await o.hub.stop();
  const users = Object.entries(o.hub.hub.sites).map(
    ([site, { password }]) => `{ user: "${site}", password: "${password}" }`,
  );
  const change = (text: string) =>
    text.replace(
      /^accounts \{[\s\S]*$/m,
      `accounts { ONE { jetstream: enabled, users: [ ${users.join(', ')} ] } }\n`,
    );
  const { stop } = await startedWith(server, { folder: o.hubDir, port: o.hub.port, change });
  return { ...o.hub, stop };
}
