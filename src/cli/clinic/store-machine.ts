/** What starting a clinic's store and a hub have in common: the machine they run on. */
import { readFile, statfs } from 'node:fs/promises';
import { join } from 'node:path';
import { type Problem, problem } from '../../base/problem.ts';
import type { Result } from '../../base/result.ts';
import { type FoundServer, findServer, SAFE_VERSION } from './find-server.ts';
import { isFree, type RunningServer } from './run-server.ts';

export interface ClinicSurroundings {
  /** The folder of this project. */
  readonly checkout: string;
  readonly env: Readonly<Record<string, string | undefined>>;
  readonly say: (line: string) => void;
  readonly headers: Readonly<Record<string, string>>;
}

/** Of the free room on the disk; the rest stays for everything else on the machine. */
const SHARE_OF_DISK = 0.8;

/** The bytes that a store in this folder may take. */
export async function roomFor(dir: string): Promise<number> {
  const { bavail, bsize } = await statfs(dir);
  return Math.floor(bavail * bsize * SHARE_OF_DISK);
}

/** The server program: what is installed, or what was fetched for trying. */
export const serverFor = ({
  checkout,
  env,
}: ClinicSurroundings): Promise<Result<FoundServer, Problem>> =>
  findServer({ cacheDir: join(checkout, 'node_modules', '.cache', 'lutewatch', 'nats'), env });

/** The id of a server that runs on this folder already; null where none does. */
async function alreadyRuns(dir: string): Promise<number | null> {
  const pid = Number(await readFile(join(dir, 'server.pid'), 'utf8').catch(() => ''));
  if (!Number.isSafeInteger(pid) || pid < 2) return null;
  try {
    process.kill(pid, 0);
  } catch {
    return null;
  }
  // The number may be another program's by now.
  const command = await readFile(`/proc/${pid}/cmdline`, 'utf8').catch(() => null);
  return command === null || command.includes(join(dir, 'server.conf')) ? pid : null;
}

/** What stands against starting a server on this folder; null where nothing does. */
export async function folderProblem(dir: string): Promise<Problem | null> {
  const pid = await alreadyRuns(dir);
  if (pid === null) return null;
  return problem('--dir', 'a folder that no server uses now', `process ${pid}`, 'runs');
}

/** What stands against listening there; null where nothing does. */
export const portProblem = async (port: number, host: string): Promise<Problem | null> =>
  (await isFree(port, host))
    ? null
    : problem('--port', `a port that is free at ${host}`, port, 'port-taken');

/** Why the server ended, once it has. */
export const endOf = ({ child }: Pick<RunningServer, 'child'>): Promise<string> =>
  new Promise((resolve) => {
    child.once('exit', (code, signal) => resolve(`it ended with ${signal ?? code}`));
  });

export function sayDemo(server: FoundServer, say: (line: string) => void): void {
  if (!server.isDemo) return;
  say(`DEMO: the server is ${server.version}. It serves this machine only, for trying.`);
  say(`A clinic needs nats-server ${SAFE_VERSION} or later, installed on this machine.`);
}
