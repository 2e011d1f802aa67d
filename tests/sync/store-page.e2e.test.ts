/** The built page reaches the store at its own address: its policy lets it, the service worker does not stand between. */
import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { writePairingDoor } from '../../src/cli/clinic/clinic-folder.ts';
import { subjectOf } from '../../src/sync/subjects.ts';
import { blackHole } from '../tools/black-hole.ts';
import { launchBrowser } from '../tools/browser.ts';
import { builtDir, type Served, serveBuilt } from '../tools/built-app.ts';
import {
  serverSuite,
  startClinic,
  type TestClinic,
  type TestTablet,
} from '../tools/nats-server.ts';
import { putOutUser } from './nats-clinic.ts';

/** The first words that come, or what became of the connection instead. */
const greeting = (page: Page, host: string): Promise<string> =>
  page.evaluate(
    (address) =>
      new Promise<string>((resolve) => {
        const socket = new WebSocket(address);
        socket.binaryType = 'arraybuffer';
        socket.addEventListener('message', ({ data }) => {
          resolve(new TextDecoder().decode(data).slice(0, 5));
          socket.close();
        });
        socket.addEventListener('error', () => resolve('failed'));
        socket.addEventListener('close', () => resolve('closed'));
        setTimeout(() => resolve('nothing'), 8000);
      }),
    `ws://${host}/store`,
  );

/** The client as it ships, opened in the page. Its lines are noted with their times, what is stored is counted. */
async function openInPage(page: Page, tablet: TestTablet): Promise<void> {
  const chunk = (await readdir(join(builtDir(), 'assets'))).find((name) =>
    name.startsWith('nats-browser-'),
  );
  const o = { login: tablet.login, name: tablet.device };
  // As text: the test runner would put its own way to import in the place of the page's.
  await page.evaluate(`(async () => {
    const { openBrowserStore } = await import('/assets/${chunk}');
    const store = openBrowserStore({ origin: location.origin, ...${JSON.stringify(o)} });
    const lines = [];
    store.onLine((line) => lines.push([line, performance.now()]));
    Object.assign(window, { store, lines });
  })()`);
}

const linesIn = (page: Page): Promise<readonly (readonly [string, number])[]> =>
  page.evaluate(() => Reflect.get(window, 'lines'));

const waitForLine = (page: Page, line: string): Promise<unknown> =>
  page.waitForFunction((wanted) => Reflect.get(window, 'lines').at(-1)[0] === wanted, line, {
    timeout: 30_000,
  });

/** Puts a fact; `fresh`, or what is wrong. */
const putIn = (page: Page, o: { readonly subject: string; readonly data: Uint8Array }) =>
  page.evaluate(
    async ({ subject, data }) => {
      const store = Reflect.get(window, 'store');
      const result = await store.put({ stream: 'F', subject, data: new Uint8Array(data) });
      return result.ok ? result.value : result.error.code;
    },
    { subject: o.subject, data: [...o.data] },
  );

await serverSuite('the page and the store', (server) => {
  let clinic: TestClinic;
  let served: Served;
  let browser: Browser;
  let page: Page;

  beforeAll(async () => {
    clinic = await startClinic(server);
    await writePairingDoor(clinic.folder, server);
    const publicDir = join(clinic.folder.dir, 'public');
    served = await serveBuilt({ store: { wsPort: clinic.webSocketPort, publicDir } });
    browser = await launchBrowser();
    page = await (await browser.newContext()).newPage();
    await page.goto(served.address, { waitUntil: 'load' });
    await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
    await page.reload({ waitUntil: 'load' });
  });
  afterAll(async () => {
    await browser?.close();
    await served?.stop();
    await clinic?.end();
  });

  test('is told how to pair', async () => {
    const door = await page.evaluate(() => fetch('/store/pairing').then((each) => each.json()));
    expect(door).toMatchObject({ format: 'lutewatch-pairing', site: clinic.site });
  });

  test('is greeted by the server at its own address, and may reach no other', async () => {
    expect(await greeting(page, new URL(served.address).host)).toBe('INFO ');
    // The server itself, past the web server: the policy forbids it, though somebody is there.
    expect(await greeting(page, `127.0.0.1:${clinic.webSocketPort}`)).not.toBe('INFO ');
  });

  test('is back within 10 s after a hole that swallowed everything, the end of a connection too', async () => {
    const hole = await blackHole(clinic.webSocketPort);
    const publicDir = join(clinic.folder.dir, 'public');
    const behind = await serveBuilt({ store: { wsPort: hole.port, publicDir } });
    const other = await (await browser.newContext()).newPage();
    await other.goto(behind.address, { waitUntil: 'load' });
    const tablet = await clinic.tablet('tablet-1');
    const fact = (n: number) => {
      const data = new Uint8Array(300).fill(n);
      const place = { stream: 'F', site: clinic.site, device: 'tablet-1', item: 'lot' } as const;
      return { subject: subjectOf({ ...place, number: null }, data), data };
    };
    await openInPage(other, tablet);
    await waitForLine(other, 'open');
    expect(await putIn(other, fact(1))).toEqual({ fresh: true });
    expect(await putIn(other, fact(1))).toEqual({ fresh: false });
    hole.open();
    const openedAt = await other.evaluate(() => performance.now());
    await waitForLine(other, 'connecting');
    const noticed = (await linesIn(other)).at(-1);
    expect(await putIn(other, fact(2))).toBe('not-connected');
    hole.close();
    const closedAt = await other.evaluate(() => performance.now());
    await waitForLine(other, 'open');
    const back = (await linesIn(other)).at(-1);
    const noticedMs = Math.round((noticed?.[1] ?? Number.NaN) - openedAt);
    const backMs = Math.round((back?.[1] ?? Number.NaN) - closedAt);
    console.log(`Chromium: hole noticed after ${noticedMs} ms, back ${backMs} ms after its end`);
    expect(noticedMs).toBeLessThan(6000);
    expect(backMs).toBeLessThan(10_000);
    expect(await putIn(other, fact(2))).toEqual({ fresh: true });
    await other.close();
    await behind.stop();
    hole.end();
  });

  test('is told when the tablet was put out', async () => {
    const other = await (await browser.newContext()).newPage();
    await other.goto(served.address, { waitUntil: 'load' });
    const tablet = await clinic.tablet('tablet-2');
    await openInPage(other, tablet);
    await waitForLine(other, 'open');
    await putOutUser(clinic, tablet.user);
    await waitForLine(other, 'refused');
    const data = new Uint8Array(20);
    expect(await putIn(other, { subject: 'f.x.tablet-2.lot.0', data })).toBe('refused');
    await other.close();
  });
});
