/** A browser that a test may kill at any instant, and pages with the journal for it to open. */
import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { createServer, type Server } from 'node:http';
import { tmpdir } from 'node:os';
import { extname, join } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import { type Browser, type BrowserContext, chromium, type Page } from 'playwright-core';
import { build } from 'vite';
import { present } from '../../src/base/assert.ts';
import { browserCommand } from '../tools/browser.ts';

export const temporaryFolder = (): Promise<string> => mkdtemp(join(tmpdir(), 'lutewatch-journal-'));

export const removeFolder = (path: string): Promise<void> =>
  rm(path, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 });

/** Builds the page with the journal into `outDir`. */
export async function buildHarness(outDir: string): Promise<void> {
  await build({
    configFile: false,
    root: fileURLToPath(new URL('harness', import.meta.url)),
    logLevel: 'warn',
    build: { outDir, emptyOutDir: true, target: 'es2022', assetsInlineLimit: 0 },
  });
}

const TYPES: Readonly<Record<string, string>> = { '.html': 'text/html', '.js': 'text/javascript' };

export interface Origin {
  readonly address: string;
  /** What the browser calls this origin in its profile. */
  readonly folder: string;
  readonly close: () => void;
}

/** Serves `dir` on a port of its own: every call is another origin with storage of its own. */
export async function serveOrigin(dir: string): Promise<Origin> {
  const server: Server = createServer(async (request, response) => {
    const path = request.url === '/' ? '/index.html' : (request.url ?? '');
    try {
      const content = await readFile(join(dir, path));
      response.setHeader('content-type', TYPES[extname(path)] ?? 'application/octet-stream');
      response.end(content);
    } catch {
      response.statusCode = 404;
      response.end();
    }
  });
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  const address = server.address();
  const port = typeof address === 'object' ? present(address, 'an address').port : 0;
  return {
    address: `http://127.0.0.1:${port}/`,
    folder: `http_127.0.0.1_${port}.indexeddb.leveldb`,
    close: () => {
      server.closeAllConnections();
      server.close();
    },
  };
}

export interface KillableBrowser {
  readonly context: BrowserContext;
  openPage(origin: Origin): Promise<Page>;
  /** SIGKILL to the browser's main process, which holds the storage, and to what it started. */
  kill(): Promise<void>;
  /** Asks it to close, and waits until it has. */
  close(): Promise<void>;
}

/** Starts the browser on `profile` as a process of our own. */
export async function startBrowser(profile: string): Promise<KillableBrowser> {
  const { executablePath, args, env } = browserCommand();
  const child = spawn(
    executablePath,
    [
      ...args,
      '--headless',
      '--no-first-run',
      '--disable-gpu',
      '--disable-background-networking',
      '--remote-debugging-port=0',
      `--user-data-dir=${profile}`,
      'about:blank',
    ],
    { detached: true, stdio: ['ignore', 'ignore', 'pipe'], ...(env === undefined ? {} : { env }) },
  );
  const exited = once(child, 'exit');
  const browser = await chromium.connectOverCDP(await debuggerAddress(child));
  const context = present(browser.contexts()[0], 'the context of the profile');
  return {
    context,
    async openPage(origin) {
      const page = await context.newPage();
      await page.goto(origin.address);
      await page.waitForFunction(() => 'harness' in window);
      return page;
    },
    async kill() {
      killGroup(child);
      await exited;
      await browser.close().catch(() => undefined);
    },
    async close() {
      await askToClose(browser);
      await exited;
    },
  };
}

function killGroup(child: ChildProcess): void {
  const pid = present(child.pid, 'the process id of the browser');
  try {
    process.kill(-pid, 'SIGKILL');
  } catch {
    child.kill('SIGKILL');
  }
}

async function askToClose(browser: Browser): Promise<void> {
  const session = await browser.newBrowserCDPSession();
  await session.send('Browser.close').catch(() => undefined);
}

async function debuggerAddress(child: ChildProcess): Promise<string> {
  const lines = createInterface({ input: present(child.stderr, 'the error output') });
  for await (const line of lines) {
    const found = /DevTools listening on (ws:\S+)/.exec(line)?.[1];
    if (found !== undefined) {
      // Left unread, a full pipe would stop the browser.
      child.stderr?.resume();
      return found;
    }
  }
  throw new Error('the browser ended before it could be reached');
}
