/** The built page reaches the store at its own address: its policy lets it, the service worker does not stand between. */
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { writePairingDoor } from '../../src/cli/clinic/clinic-folder.ts';
import { launchBrowser } from '../tools/browser.ts';
import { type Served, serveBuilt } from '../tools/built-app.ts';
import { serverSuite, startClinic, type TestClinic } from '../tools/nats-server.ts';

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
});
