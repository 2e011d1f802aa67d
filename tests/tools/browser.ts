/**
 * Finds a Chromium for the tests and starts it. The order is: the path in CHROME_BIN, a Chrome, Edge
 * or Chromium installed on the machine, and last the one that comes with the npm packages (Linux on
 * x64 only). LUTEWATCH_HIDE_SYSTEM_BROWSERS=1 forces the last, so that a machine with a browser can
 * prove that one without would do.
 */
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser, BrowserContext, LaunchOptions } from 'playwright-core';
import { bundledBrowserCommand } from './bundled-browser.ts';

/** What Playwright needs to know to start the browser that was found. */
export interface BrowserCommand {
  readonly executablePath: string;
  readonly args: string[];
  readonly env?: Record<string, string>;
}

/** Options for a browser whose profile lives on disk. */
export type PersistentOptions = NonNullable<
  Parameters<typeof import('playwright-core').chromium.launchPersistentContext>[1]
>;

const LINUX_PATHS = [
  '/usr/bin/google-chrome-stable',
  '/usr/bin/google-chrome',
  '/opt/google/chrome/chrome',
  '/usr/bin/microsoft-edge-stable',
  '/usr/bin/microsoft-edge',
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
];

const MAC_PATHS = [
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  '/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
];

const WINDOWS_PATHS = [
  'Google\\Chrome\\Application\\chrome.exe',
  'Microsoft\\Edge\\Application\\msedge.exe',
  'Chromium\\Application\\chrome.exe',
];

/** Where a browser is usually installed on this kind of machine, best first. */
function usualPaths(): readonly string[] {
  if (process.platform === 'darwin') return MAC_PATHS;
  if (process.platform !== 'win32') return LINUX_PATHS;
  const roots = ['PROGRAMFILES', 'PROGRAMFILES(X86)', 'LOCALAPPDATA'];
  return roots.flatMap((name) => {
    const root = process.env[name];
    return root === undefined ? [] : WINDOWS_PATHS.map((path) => join(root, path));
  });
}

/** The path of an installed browser, or undefined when there is none or it is to be overlooked. */
function installedBrowser(): string | undefined {
  if (process.env['LUTEWATCH_HIDE_SYSTEM_BROWSERS'] === '1') return undefined;
  const named = process.env['CHROME_BIN'];
  if (named !== undefined && named !== '') return named;
  return usualPaths().find((path) => existsSync(path));
}

/**
 * How to start the browser of this machine. Cheap: the bundled browser is named here, but unpacked
 * only by the global set-up of the suites that drive one.
 */
export function browserCommand(): BrowserCommand {
  const executablePath = installedBrowser();
  if (executablePath === undefined) return bundledBrowserCommand();
  // Containers run as root and have a small /dev/shm; the sandbox and shared memory fail there.
  return { executablePath, args: ['--no-sandbox', '--disable-dev-shm-usage'] };
}

/** Adds the caller's arguments to the ones the found browser needs. */
function withFound<T extends LaunchOptions | PersistentOptions>(options: T): T {
  const { executablePath, args, env } = browserCommand();
  return {
    ...options,
    executablePath,
    args: [...args, ...(options.args ?? [])],
    ...(env === undefined ? {} : { env: { ...env, ...options.env } }),
  };
}

/** Starts the browser without a profile; everything it stores is gone when it is closed. */
export async function launchBrowser(options: LaunchOptions = {}): Promise<Browser> {
  const { chromium } = await import('playwright-core');
  return chromium.launch(withFound(options));
}

/** Starts the browser with its profile in `userDataDir`, so that stored data outlives it. */
export async function launchPersistent(
  userDataDir: string,
  options: PersistentOptions = {},
): Promise<BrowserContext> {
  const { chromium } = await import('playwright-core');
  return chromium.launchPersistentContext(userDataDir, withFound(options));
}
