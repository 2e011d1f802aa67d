/** What `npm run clinic` is asked for on the command line. */

import { realpath } from 'node:fs/promises';
import { dirname, isAbsolute, join, relative, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { type Problem, problem } from '../../base/problem.ts';
import { err, ok, type Result } from '../../base/result.ts';

export interface ClinicArguments {
  /** Absolute, outside the checkout. */
  readonly dir: string;
  /** Of the WebSocket; null when left out. */
  readonly port: number | null;
  /** Where the WebSocket listens. */
  readonly host: string;
  /** The name under which the clinic's web server is reached; its configuration is written. */
  readonly web: string | null;
  /** The digits are not asked for: for tests. */
  readonly isYes: boolean;
  /** The file by which this clinic reaches the hub that keeps a copy. */
  readonly hub: string | null;
  /** This machine is the hub: the sites whose copies it keeps. */
  readonly copies: readonly string[] | null;
}

export const USAGE = `npm run clinic -- --dir FOLDER [--port N] [--host ADDRESS] [--web NAME] [--yes] [--hub FILE]
npm run clinic -- --dir FOLDER --copies SITE[,SITE] [--port N] [--web NAME]

Runs the clinic's store on this machine, and lets the first tablet found the clinic.
With --copies it runs a hub instead, which keeps a copy of what several clinics store.

  --dir FOLDER    keys and store; outside this checkout, made when it is not there
  --port N        port of the store on this machine; when left out a free one, with --web 4180
  --host ADDRESS  where the store listens; 127.0.0.1 when left out
  --web NAME      also writes FOLDER/Caddyfile for the web server at https://NAME
  --yes           takes the six digits as compared, for tests
  --hub FILE      also sends a copy to the hub that wrote FILE for this clinic
  --copies SITES  the clinics, by the ids that their terminals print; port 4280 when --port is left out
`;

export const isLoopback = (host: string): boolean =>
  host === 'localhost' || host === '::1' || /^127(\.\d{1,3}){3}$/.test(host);

const HOST = /^[A-Za-z0-9]([A-Za-z0-9.:-]{0,252}[A-Za-z0-9])?$/;
const NAME = /^[a-z0-9]([a-z0-9.-]{0,252}[a-z0-9])?(:\d{1,5})?$/;

const isInside = (path: string, folder: string): boolean => {
  const from = relative(folder, path);
  return from === '' || !(from.startsWith('..') || isAbsolute(from));
};

/** The path with every link on the way to it followed, as far as it exists. */
async function realPath(path: string): Promise<string> {
  try {
    return await realpath(path);
  } catch {
    const parent = dirname(path);
    return parent === path ? path : join(await realPath(parent), path.slice(parent.length));
  }
}

function portOf(text: string | undefined): Result<number | null, Problem> {
  if (text === undefined) return ok(null);
  const port = Number(text);
  const isPort = /^\d{1,5}$/.test(text) && port >= 1 && port <= 65_535;
  return isPort ? ok(port) : err(problem('--port', 'a number from 1 to 65535', text));
}

/** As the server of a clinic draws it. */
const SITE = /^[0-9a-f]{10}$/;

function sitesOf(text: string | undefined): Result<readonly string[] | null, Problem> {
  if (text === undefined) return ok(null);
  const sites = [...new Set(text.split(','))];
  if (sites.every((site) => SITE.test(site))) return ok(sites);
  return err(problem('--copies', 'ids of clinics like 0a1b2c3d4e, with commas between', text));
}

/** What a hub cannot be asked for as well. */
function hubProblem(o: {
  readonly hub?: string;
  readonly copies?: string;
  readonly host: string;
}): Problem | null {
  if (o.copies === undefined) return null;
  if (o.hub !== undefined) return problem('--hub', 'no other hub where --copies stands', o.hub);
  if (isLoopback(o.host)) return null;
  return problem('--host', 'an address of this machine only: --web lets clinics in', o.host);
}

function valuesOf(args: readonly string[]) {
  try {
    const { values } = parseArgs({
      args: [...args],
      options: {
        dir: { type: 'string' },
        port: { type: 'string' },
        host: { type: 'string', default: '127.0.0.1' },
        web: { type: 'string' },
        yes: { type: 'boolean', default: false },
        hub: { type: 'string' },
        copies: { type: 'string' },
      },
    });
    return ok(values);
  } catch (thrown) {
    const [line = ''] = (thrown instanceof Error ? thrown.message : String(thrown)).split('. ');
    return err(problem('clinic', 'only known arguments; --help lists them', line));
  }
}

/** Reads the arguments; the first thing wrong is told. `checkout` is the folder of this project. */
export async function clinicArguments(
  args: readonly string[],
  checkout: string,
): Promise<Result<ClinicArguments, Problem>> {
  const read = valuesOf(args);
  if (!read.ok) return read;
  const { dir = '', host, web, yes } = read.value;
  if (dir === '') return err(problem('--dir', 'a folder for keys and store', undefined));
  const path = await realPath(resolve(dir));
  if (isInside(path, await realPath(checkout))) {
    return err(problem('--dir', 'a folder outside this checkout: keys do not belong there', dir));
  }
  const port = portOf(read.value.port);
  if (!port.ok) return port;
  if (!HOST.test(host)) return err(problem('--host', 'an address of this machine', host));
  if (web !== undefined && !NAME.test(web)) {
    return err(problem('--web', 'a name like clinic.example, in small letters', web));
  }
  const { hub = null } = read.value;
  const sites = sitesOf(read.value.copies);
  if (!sites.ok) return sites;
  const wrong = hubProblem(read.value);
  if (wrong !== null) return err(wrong);
  const copies = sites.value;
  return ok({ dir: path, port: port.value, host, web: web ?? null, isYes: yes, hub, copies });
}
