/** Builds the application as it ships and serves it, for tests that drive a real browser. */
import { execFile, fork } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { SERVER_HEADERS } from '../../.ci/vite/page-policy.ts';
import type { StoreAtHand } from '../../.ci/vite/store-pass.ts';

const ROOT = fileURLToPath(new URL('../../', import.meta.url));
const BUILT_DIR = 'LUTEWATCH_BUILT_DIR';

/** A served application; `stop` kills its server at once. */
export interface Served {
  /** Ends in a slash. */
  readonly address: string;
  readonly port: number;
  readonly stop: () => Promise<void>;
}

/**
 * Builds the application into `outDir`. `version` is what the build says of itself, the version of
 * package.json when left out; two versions make two builds that differ.
 */
export async function buildApp(options: {
  readonly outDir: string;
  readonly version?: string;
  /** What the build is told besides, as environment variables. */
  readonly env?: Readonly<Record<string, string>>;
}): Promise<void> {
  const vite = join(ROOT, 'node_modules/vite/bin/vite.js');
  const args = [vite, 'build', '--logLevel', 'warn', '--emptyOutDir', '--outDir', options.outDir];
  await promisify(execFile)(process.execPath, args, {
    cwd: ROOT,
    env: { ...buildEnvironment(options.version), ...options.env },
  });
}

/** A build told that it runs inside a test runner would leave the service worker out. */
function buildEnvironment(version: string | undefined): NodeJS.ProcessEnv {
  const kept = Object.entries(process.env).filter(([name]) => !/^(VITEST|TEST|MODE)/.test(name));
  const env: NodeJS.ProcessEnv = { ...Object.fromEntries(kept), NODE_ENV: 'production' };
  return version === undefined ? env : { ...env, LUTEWATCH_VERSION: version };
}

/**
 * Builds into a temporary folder and makes it the one that {@link builtDir} names, in this process
 * and in those it starts.
 *
 * @returns what removes the folder again.
 */
export async function buildForRun(): Promise<() => Promise<void>> {
  const outDir = await mkdtemp(join(tmpdir(), 'lutewatch-built-'));
  await buildApp({ outDir });
  process.env[BUILT_DIR] = outDir;
  return () => rm(outDir, { recursive: true, force: true });
}

/** The folder that this run built. */
export function builtDir(): string {
  const dir = process.env[BUILT_DIR];
  if (dir === undefined) throw new Error('Nothing has been built: call buildForRun first.');
  return dir;
}

/**
 * Serves a build on 127.0.0.1.
 *
 * @param options.dir the folder to serve; the build of this run when left out.
 * @param options.port the port to use again, so that the origin stays the same; any when left out.
 * @param options.store the clinic's store that is passed through; none when left out.
 */
export async function serveBuilt(
  options: { readonly dir?: string; readonly port?: number; readonly store?: StoreAtHand } = {},
): Promise<Served> {
  const script = fileURLToPath(new URL('preview-child.mjs', import.meta.url));
  const dir = options.dir ?? builtDir();
  const store = JSON.stringify(options.store ?? null);
  const args = [dir, String(options.port ?? 0), JSON.stringify(SERVER_HEADERS), store];
  const child = fork(script, args, { cwd: ROOT, execArgv: [] });
  const exited = once(child, 'exit');
  const port = await Promise.race([
    once(child, 'message').then(([message]) => portOf(message)),
    exited.then(([code]) => {
      throw new Error(`The server for ${dir} ended with ${code} before it was ready.`);
    }),
  ]);
  const stop = async (): Promise<void> => {
    child.kill('SIGKILL');
    await exited;
  };
  return { address: `http://127.0.0.1:${port}/`, port, stop };
}

function portOf(message: unknown): number {
  if (typeof message === 'object' && message !== null && 'port' in message) {
    if (typeof message.port === 'number') return message.port;
  }
  throw new Error(`The server said ${JSON.stringify(message)} and not its port.`);
}

/**
 * Builds and serves the same application with one press for each step of the shipped families, as a clinic
 * may set them, for tests that look at every press by itself.
 */
export async function serveOneByOne(): Promise<Served> {
  const dir = await mkdtemp(join(tmpdir(), 'lutewatch-one-by-one-'));
  await buildApp({ outDir: dir, env: { LUTEWATCH_ONE_BY_ONE: '1' } });
  const served = await serveBuilt({ dir });
  return {
    ...served,
    stop: async () => {
      await served.stop();
      await rm(dir, { recursive: true, force: true });
    },
  };
}
