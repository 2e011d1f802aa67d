/** What starting a clinic's store and a hub have in common: the machine they run on. */
import { readFile, statfs } from 'node:fs/promises';
import { join } from 'node:path';
import { type FoundServer, SAFE_VERSION } from './find-server.ts';

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

/** The id of a server that runs on this folder already; null where none does. */
export async function alreadyRuns(dir: string): Promise<number | null> {
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

export function sayDemo(server: FoundServer, say: (line: string) => void): void {
  if (!server.isDemo) return;
  say(`DEMO: the server is ${server.version}. It serves this machine only, for trying.`);
  say(`A clinic needs nats-server ${SAFE_VERSION} or later, installed on this machine.`);
}
