/** Runs a hub on this machine, and says what clinics need in order to send it their copies. */
import { join } from 'node:path';
import type { NatsConnection } from '@nats-io/nats-core';
import { type Problem, problem } from '../../base/problem.ts';
import { err, ok, type Result } from '../../base/result.ts';
import { caddyCommand, caddyfilePath, hubCaddyfile } from './caddyfile.ts';
import type { ClinicArguments } from './clinic-arguments.ts';
import { writeOwn } from './clinic-folder.ts';
import type { FoundServer } from './find-server.ts';
import { COPIED, hubConfig, mirrorConfig, ownUser } from './hub-config.ts';
import { type HubFile, linkPath, openHub, writeLinks } from './hub-folder.ts';
import { freePort, nodeConnect, startServer } from './run-server.ts';
import {
  type ClinicSurroundings,
  endOf,
  folderProblem,
  portProblem,
  roomFor,
  sayDemo,
  serverFor,
} from './store-machine.ts';

/** It stays the same from one start to the next: clinics come to it. */
const HUB_PORT = 4280;

export interface RunningHub {
  readonly hub: HubFile;
  /** For clients in Node, on this machine. */
  readonly port: number;
  readonly ended: Promise<string>;
  readonly stop: () => Promise<void>;
}

/** A connection of the hub itself to the account of a site. */
export const hubConnection = (o: {
  readonly port: number;
  readonly hub: HubFile;
  readonly site: string;
}): Promise<NatsConnection> =>
  nodeConnect({
    servers: `127.0.0.1:${o.port}`,
    user: ownUser(o.site),
    pass: o.hub.ownPassword,
    reconnect: false,
  });

/** Makes the copies that are not there yet. A clinic need not be on line for it. */
async function makeMirrors(port: number, hub: HubFile): Promise<Result<null, Problem>> {
  for (const site of Object.keys(hub.sites)) {
    const connection = await hubConnection({ port, hub, site });
    try {
      for (const stream of COPIED) {
        const info = await connection.request(`$JS.API.STREAM.INFO.${stream}`);
        if (!info.string().includes('"error"')) continue;
        const config = JSON.stringify(mirrorConfig(site, stream));
        const made = await connection.request(`$JS.API.STREAM.CREATE.${stream}`, config);
        if (!made.string().includes('"error"')) continue;
        return err(problem(`copy of ${site} ${stream}`, 'to be made', made.string(), 'no-stream'));
      }
    } finally {
      await connection.close();
    }
  }
  return ok(null);
}

type Say = (line: string) => void;

function sayStart(args: ClinicArguments, o: { server: FoundServer; hub: HubFile }, say: Say): void {
  sayDemo(o.server, say);
  if (args.web !== null) say(`Web server: ${caddyCommand(args.dir)}`);
  for (const site of Object.keys(o.hub.sites)) {
    say(`${site}: hand it ${linkPath(args.dir, site)}, for its --hub. Nobody else may have it.`);
  }
  say('A case that a clinic erases stays in its copy here, sealed. Its key never comes here.');
}

async function writeConfig(
  args: ClinicArguments,
  o: { server: FoundServer; hub: HubFile; port: number; webSocketPort: number },
): Promise<void> {
  const { server, hub, port, webSocketPort } = o;
  const config = hubConfig({
    folder: args.dir,
    sites: hub.sites,
    ownPassword: hub.ownPassword,
    port,
    leafPort: await freePort(),
    webSocketHost: args.host,
    webSocketPort,
    storeBytes: await roomFor(args.dir),
    isDemo: server.isDemo,
  });
  await writeOwn(join(args.dir, 'server.conf'), config);
  const address = args.web === null ? `ws://${args.host}:${webSocketPort}` : `wss://${args.web}`;
  await writeLinks(args.dir, hub, address);
  if (args.web === null) return;
  await writeOwn(caddyfilePath(args.dir), hubCaddyfile(args.web, webSocketPort));
}

/** Starts the hub. `sites` are the clinics that it is asked to know. Errors are told in one line. */
export async function runHub(
  args: ClinicArguments,
  sites: readonly string[],
  around: ClinicSurroundings,
): Promise<Result<RunningHub, Problem>> {
  const found = await serverFor(around);
  if (!found.ok) return found;
  const server = found.value;
  const opened = await openHub(args.dir, sites);
  if (!opened.ok) return opened;
  const hub = opened.value;
  const inUse = await folderProblem(args.dir);
  if (inUse !== null) return err(inUse);
  const port = await freePort();
  const webSocketPort = args.port ?? HUB_PORT;
  const taken = await portProblem(webSocketPort, args.host);
  if (taken !== null) return err(taken);
  await writeConfig(args, { server, hub, port, webSocketPort });
  const started = await startServer({ path: server.path, folder: args.dir, port });
  if (!started.ok) return started;
  const made = await makeMirrors(port, hub);
  if (!made.ok) {
    await started.value.stop();
    return made;
  }
  sayStart(args, { server, hub }, around.say);
  return ok({ hub, port, ended: endOf(started.value), stop: started.value.stop });
}
