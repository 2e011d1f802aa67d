/**
 * Finds the server program: named by NATS_SERVER_BIN, on the PATH, kept from last time, or fetched from the
 * distribution's own archive. One that was fetched, or is older than the safe version, serves for trying only.
 */
import { execFile } from 'node:child_process';
import { access, constants, cp, mkdir, mkdtemp, readdir, rename, rm } from 'node:fs/promises';
import { delimiter, join } from 'node:path';
import { promisify } from 'node:util';
import { type Problem, problem } from '../../base/problem.ts';
import { err, ok, type Result } from '../../base/result.ts';

const run = promisify(execFile);

/**
 * The first version without the known ways to stop it or to use up its memory before a login, and with
 * `sync_interval: always`, which writes each message to the disk before it is acknowledged.
 */
export const SAFE_VERSION = '2.12.6';

export interface FoundServer {
  readonly path: string;
  /** `2.12.6` */
  readonly version: string;
  /** For trying only: fetched, or older than {@link SAFE_VERSION}. */
  readonly isDemo: boolean;
}

/** Whether a version is at least another one. */
export function isAtLeast(version: string, least: string): boolean {
  const [a, b] = [version, least].map((text) => text.split('.').map(Number));
  for (const at of [0, 1, 2]) {
    const [own, other] = [a?.[at] ?? 0, b?.[at] ?? 0];
    if (own !== other) return own > other;
  }
  return true;
}

/** What `nats-server --version` says; null where it says nothing of the kind. */
async function versionOf(path: string): Promise<string | null> {
  try {
    const { stdout } = await run(path, ['--version'], { timeout: 10_000 });
    return /nats-server: v(\d+\.\d+\.\d+)/.exec(stdout)?.[1] ?? null;
  } catch {
    return null;
  }
}

async function found(path: string, isFetched: boolean): Promise<FoundServer | null> {
  const version = await versionOf(path);
  if (version === null) return null;
  return { path, version, isDemo: isFetched || !isAtLeast(version, SAFE_VERSION) };
}

async function onPath(path: string): Promise<string | null> {
  for (const folder of path.split(delimiter).filter((each) => each !== '')) {
    const candidate = join(folder, 'nats-server');
    const isThere = await access(candidate, constants.X_OK).then(
      () => true,
      () => false,
    );
    if (isThere) return candidate;
  }
  return null;
}

/** Options of apt with lists and a cache of its own, for a user who may not touch the system's. */
async function ownLists(folder: string): Promise<readonly string[]> {
  const [lists, cache] = [join(folder, 'lists'), join(folder, 'cache')];
  await mkdir(join(lists, 'partial'), { recursive: true });
  await mkdir(join(cache, 'archives', 'partial'), { recursive: true });
  const options = [`Dir::State::lists=${lists}`, `Dir::Cache=${cache}`, 'APT::Sandbox::User='];
  return options.flatMap((option) => ['-o', option]);
}

async function unpack(folder: string, into: string): Promise<void> {
  const archive = (await readdir(folder)).find((name) => name.endsWith('.deb'));
  if (archive === undefined) throw new Error('apt-get download left no package');
  const out = join(folder, 'out');
  await run('dpkg-deb', ['-x', join(folder, archive), out]);
  const names = ['usr/sbin/nats-server', 'usr/bin/nats-server'].map((name) => join(out, name));
  for (const name of names) {
    if ((await versionOf(name)) === null) continue;
    await mkdir(into, { recursive: true });
    // In one step, so that nobody who looks meanwhile starts half a program.
    const beside = join(into, `nats-server.${process.pid}`);
    await cp(name, beside);
    await rename(beside, join(into, 'nats-server'));
    return;
  }
  throw new Error('the package holds no nats-server');
}

/** Fetches the package of the distribution: with the lists at hand, then twice with lists of its own. */
async function fetchInto(cacheDir: string): Promise<string | null> {
  let why = '';
  for (const attempt of [1, 2, 3]) {
    await mkdir(cacheDir, { recursive: true });
    const folder = await mkdtemp(join(cacheDir, 'fetch-'));
    try {
      const options = attempt === 1 ? [] : await ownLists(folder);
      const quiet = { cwd: folder, timeout: 120_000 };
      if (attempt > 1) await run('apt-get', [...options, 'update'], quiet);
      await run('apt-get', [...options, 'download', 'nats-server'], quiet);
      await unpack(folder, cacheDir);
      return null;
    } catch (thrown) {
      why = thrown instanceof Error ? (thrown.message.split('\n')[0] ?? '') : String(thrown);
    } finally {
      await rm(folder, { recursive: true, force: true });
    }
  }
  return why;
}

/**
 * The server program to use.
 *
 * @param o.cacheDir where a fetched one is kept.
 * @returns `no-server` with what was tried last, or `bad-server` where NATS_SERVER_BIN names none.
 */
export async function findServer(o: {
  readonly cacheDir: string;
  readonly env: Readonly<Record<string, string | undefined>>;
}): Promise<Result<FoundServer, Problem>> {
  const named = o.env['NATS_SERVER_BIN'] ?? '';
  if (named !== '') {
    const server = await found(named, false);
    if (server !== null) return ok(server);
    return err(problem('NATS_SERVER_BIN', 'the path of a nats-server', named, 'bad-server'));
  }
  const installed = await onPath(o.env['PATH'] ?? '');
  const own = installed === null ? null : await found(installed, false);
  if (own !== null) return ok(own);
  const kept = join(o.cacheDir, 'nats-server');
  const old = await found(kept, true);
  if (old !== null) return ok(old);
  const why = await fetchInto(o.cacheDir);
  const fetched = why === null ? await found(kept, true) : null;
  if (fetched !== null) return ok(fetched);
  const wanted = `nats-server ${SAFE_VERSION} or later on the PATH, or named by NATS_SERVER_BIN`;
  return err(problem('nats-server', wanted, why ?? 'one that does not start', 'no-server'));
}
