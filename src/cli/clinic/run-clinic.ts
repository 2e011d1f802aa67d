/** Sets the clinic's store up, starts it, and says what the person at the terminal needs to know. */
import { existsSync } from 'node:fs';
import { mkdir, readFile, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { decode } from '@nats-io/jwt';
import { type Problem, problem } from '../../base/problem.ts';
import { err, ok, type Result } from '../../base/result.ts';
import { caddyCommand, caddyfile, caddyfilePath } from './caddyfile.ts';
import { type ClinicArguments, isLoopback } from './clinic-arguments.ts';
import { type ClinicFolder, openFolder, writeOwn, writePairingDoor } from './clinic-folder.ts';
import { type FoundServer, SAFE_VERSION } from './find-server.ts';
import { type HubLinkFile, readLink } from './hub-folder.ts';
import { freePort, makeStreams, type RunningServer, startServer } from './run-server.ts';
import { type HubLink, serverConfig } from './server-config.ts';
import {
  type ClinicSurroundings,
  endOf,
  folderProblem,
  portProblem,
  roomFor,
  sayDemo,
  serverFor,
} from './store-machine.ts';

export interface RunningClinic {
  readonly folder: ClinicFolder;
  readonly server: FoundServer;
  /** For clients in Node, on this machine. */
  readonly port: number;
  readonly wsPort: number;
  /** Resolves with why, when the server ended by itself. */
  readonly ended: Promise<string>;
  readonly stop: () => Promise<void>;
}

/** Behind a web server the port stays the same from one start to the next. */
const WEB_STORE_PORT = 4180;

/** A server with known faults is for this machine alone. */
function hostProblem(server: FoundServer, host: string): Problem | null {
  if (!server.isDemo || isLoopback(host)) return null;
  const why = `the server ${server.version}: before ${SAFE_VERSION} anybody on the network can stop it`;
  return problem('--host', `127.0.0.1 with ${why}`, host, 'unsafe-version');
}

/** What the clinic was given to reach its hub; null without one. */
async function linkOf(
  { hub }: ClinicArguments,
  { clinic }: ClinicFolder,
  server: FoundServer,
): Promise<Result<HubLinkFile | null, Problem>> {
  if (hub === null) return ok(null);
  const read = await readLink(hub, clinic.site);
  if (!read.ok) return read;
  const { protocol, hostname } = new URL(read.value.address);
  if (isLoopback(hostname)) return read;
  if (protocol === 'ws:') return err(problem('--hub', 'a hub at wss://', read.value.address));
  const demo = `a hub on this machine with the server ${server.version}, which is for trying`;
  return server.isDemo ? err(problem('--hub', demo, hostname, 'unsafe-version')) : read;
}

/** The streams lie in the account that has let their builder in. */
const hubLink = ({ address, password }: HubLinkFile, { clinic }: ClinicFolder): HubLink => ({
  address,
  password,
  account: decode(clinic.builder.jwt).iss,
});

async function writeFiles(
  args: ClinicArguments,
  o: {
    readonly folder: ClinicFolder;
    readonly server: FoundServer;
    readonly port: number;
    readonly wsPort: number;
    readonly around: ClinicSurroundings;
    readonly link: HubLinkFile | null;
  },
): Promise<void> {
  const { folder, server, port, wsPort, around, link } = o;
  const { dir, clinic } = folder;
  await writePairingDoor(folder, server);
  const config = serverConfig({
    folder: dir,
    site: clinic.site,
    operatorJwt: clinic.operatorJwt,
    systemAccount: clinic.systemAccount,
    port,
    webSocketHost: args.host,
    webSocketPort: wsPort,
    storeBytes: await roomFor(dir),
    isDemo: server.isDemo,
    ...(link === null ? {} : { hub: hubLink(link, folder) }),
  });
  await writeOwn(join(dir, 'server.conf'), config);
  if (args.web === null) return;
  const text = caddyfile({
    name: args.web,
    dist: join(around.checkout, 'dist'),
    publicDir: join(dir, 'public'),
    wsPort,
    headers: around.headers,
  });
  await writeOwn(caddyfilePath(dir), text);
}

/** Where `npm start` looks for a store on this machine. */
const atHandFile = ({ checkout, env }: ClinicSurroundings): string =>
  env['LUTEWATCH_STORE_FILE'] ??
  join(checkout, 'node_modules', '.cache', 'lutewatch', 'clinic.json');

function sayStart(args: ClinicArguments, server: FoundServer, around: ClinicSurroundings): void {
  const { say } = around;
  sayDemo(server, say);
  const isBuilt = existsSync(join(around.checkout, 'dist', 'index.html'));
  if (args.web !== null) {
    say(`Web server: ${caddyCommand(args.dir)}`);
    if (!isBuilt) say('Build the application first: npm run build');
    say(`Tablets open https://${args.web}/`);
  } else {
    say('In another terminal: npm start. It prints the address that tablets open.');
  }
}

function sayHub(
  { clinic }: ClinicFolder,
  link: HubLinkFile | null,
  say: (line: string) => void,
): void {
  say(`The id of this clinic is ${clinic.site}.`);
  if (link === null) return;
  say(`A copy goes to the hub at ${link.address}. What is erased here stays there, sealed;`);
  say('its key does not go there.');
}

/** Starts the clinic's store. Errors are told in one line. */
export async function runClinic(
  args: ClinicArguments,
  around: ClinicSurroundings,
): Promise<Result<RunningClinic, Problem>> {
  const found = await serverFor(around);
  if (!found.ok) return found;
  const server = found.value;
  const unsafe = hostProblem(server, args.host);
  if (unsafe !== null) return err(unsafe);
  const opened = await openFolder(args.dir);
  if (!opened.ok) return opened;
  const inUse = await folderProblem(args.dir);
  if (inUse !== null) return err(inUse);
  const folder = opened.value;
  const link = await linkOf(args, folder, server);
  if (!link.ok) return link;
  const port = await freePort();
  const wsPort = args.port ?? (args.web === null ? await freePort() : WEB_STORE_PORT);
  const taken = await portProblem(wsPort, args.host);
  if (taken !== null) return err(taken);
  await writeFiles(args, { folder, server, port, wsPort, around, link: link.value });
  const started = await startServer({ path: server.path, folder: args.dir, port });
  if (!started.ok) return started;
  const made = await makeStreams({ port, login: folder.clinic.builder });
  if (!made.ok) {
    await started.value.stop();
    return made;
  }
  const atHand = atHandFile(around);
  await mkdir(join(atHand, '..'), { recursive: true });
  await writeOwn(atHand, JSON.stringify({ wsPort, publicDir: join(args.dir, 'public') }));
  sayStart(args, server, around);
  sayHub(folder, link.value, around.say);
  return ok({ folder, server, port, wsPort, ...lifeOf(started.value, atHand, wsPort) });
}

function lifeOf(running: RunningServer, atHand: string, wsPort: number) {
  const stop = async (): Promise<void> => {
    await running.stop();
    // Another clinic may have taken its place there.
    const text = await readFile(atHand, 'utf8').catch(() => '');
    if (text.includes(`"wsPort":${wsPort},`)) await rm(atHand, { force: true });
  };
  return { ended: endOf(running), stop };
}
