/**
 * WebKit as the GTK port has it, driven by its own WebDriver under a virtual screen. It is the
 * nearest thing to a tablet's WebKit that runs on Linux; it is not that tablet.
 */
import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import {
  HEIGHT_PX,
  killGroup,
  type Maker,
  type OtherBrowser,
  pause,
  WIDTH_PX,
} from './other-browser.ts';

const DRIVER = '/usr/bin/WebKitWebDriver';
const SCREEN = '/usr/bin/Xvfb';
const BINARIES = ['x86_64', 'aarch64'].flatMap((machine) =>
  ['4.1', '4.0'].map((api) => `/usr/lib/${machine}-linux-gnu/webkit2gtk-${api}/MiniBrowser`),
);
const SCRIPTED = '/usr/bin/gjs';
const KEPT_BROWSER = fileURLToPath(new URL('kept-webkit.mjs', import.meta.url));
const DISPLAY = ':86';
const PORT = 4486;
/** Height that the window itself takes, in px. */
const CHROME_PX = 40;
const ELEMENT_KEY = 'element-6066-11e4-a52e-4f735466cecf';

/** One call of the WebDriver protocol (W3C WebDriver, 2018). Throws what the driver complains of. */
async function call<T>(method: string, path: string, body?: unknown): Promise<T> {
  const answer = await fetch(`http://127.0.0.1:${PORT}${path}`, {
    method,
    ...(body === undefined ? {} : { body: JSON.stringify(body) }),
  });
  const { value } = await answer.json();
  if (value?.error !== undefined) throw new Error(`${value.error}: ${value.message}`);
  return value;
}

/** What the driver starts: a program and its arguments. */
interface Program {
  readonly binary: string;
  readonly args: readonly string[];
}

/** The browser that comes with the driver forgets at its end, so one that keeps is a script of ours. */
function programOf(profile: string | undefined): Program | undefined {
  if (profile !== undefined) {
    const keeps = { binary: SCRIPTED, args: ['-m', KEPT_BROWSER, profile] };
    return existsSync(SCRIPTED) ? keeps : undefined;
  }
  const binary = BINARIES.find((path) => existsSync(path));
  return binary === undefined ? undefined : { binary, args: ['--automation'] };
}

async function startSession(program: Program) {
  const capabilities = {
    alwaysMatch: { browserName: 'MiniBrowser', 'webkitgtk:browserOptions': program },
  };
  for (let tries = 0; ; tries += 1) {
    try {
      return await call<{ sessionId: string; capabilities: { browserVersion: string } }>(
        'POST',
        '/session',
        { capabilities },
      );
    } catch (error) {
      // The driver takes a moment before it listens.
      if (tries > 20) throw error;
      await pause(250);
    }
  }
}

function browserOf(o: {
  readonly version: string;
  readonly session: string;
  readonly driver: ChildProcess;
  readonly screen: ChildProcess;
}): OtherBrowser {
  const { session } = o;
  const end = async (): Promise<void> => {
    const ended = [once(o.driver, 'exit'), once(o.screen, 'exit')];
    // The driver is the head of the group in which the browser and its processes run.
    killGroup(o.driver.pid);
    o.screen.kill();
    await Promise.all(ended);
  };
  const key = (type: 'keyDown' | 'keyUp') => ({ type, value: ' ' });
  return {
    name: 'WebKitGTK',
    version: o.version,
    open: (url) => call('POST', `${session}/url`, { url }),
    ask: (script) => call('POST', `${session}/execute/sync`, { script, args: [] }),
    async click(selector) {
      const found = await call<Record<string, string>>('POST', `${session}/element`, {
        using: 'css selector',
        value: selector,
      });
      await call('POST', `${session}/element/${found[ELEMENT_KEY]}/click`, {});
    },
    pressSpace: () =>
      call('POST', `${session}/actions`, {
        actions: [{ type: 'key', id: 'keys', actions: [key('keyDown'), key('keyUp')] }],
      }),
    picture: async () => Buffer.from(await call<string>('GET', `${session}/screenshot`), 'base64'),
    async close() {
      await call('DELETE', session).catch(() => undefined);
      await end();
    },
    kill: end,
  };
}

export const webkit: Maker = {
  name: 'WebKitGTK',
  wants: 'webkit2gtk-driver and xvfb',
  wantsToKeep: 'gjs and gir1.2-webkit2-4.1',
  async make(profile) {
    const program = programOf(profile);
    if (program === undefined || !existsSync(DRIVER) || !existsSync(SCREEN)) return null;
    const size = `${WIDTH_PX + 100}x${HEIGHT_PX + 100}x24`;
    const screen = spawn(SCREEN, [DISPLAY, '-screen', '0', size], { stdio: 'ignore' });
    const driver = spawn(DRIVER, [`--port=${PORT}`], {
      stdio: 'ignore',
      detached: true,
      env: { ...process.env, DISPLAY },
    });
    // In a group of its own, it would outlive a run that is broken off, and keep the port.
    const endWithRun = (): void => killGroup(driver.pid);
    process.once('exit', endWithRun);
    driver.once('exit', () => process.off('exit', endWithRun));
    const { sessionId, capabilities } = await startSession(program);
    const session = `/session/${sessionId}`;
    const rect = { width: WIDTH_PX, height: HEIGHT_PX + CHROME_PX };
    await call('POST', `${session}/window/rect`, rect);
    return browserOf({ version: capabilities.browserVersion, session, driver, screen });
  },
};
