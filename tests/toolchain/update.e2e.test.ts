import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { launchBrowser } from '../tools/browser.ts';
import { buildApp, serveBuilt } from '../tools/built-app.ts';

let newer = '';

beforeAll(async () => {
  newer = await mkdtemp(join(tmpdir(), 'lutewatch-newer-'));
  await buildApp({ outDir: newer, version: '999.0.0' });
});

afterAll(() => rm(newer, { recursive: true, force: true }));

test('a newer build waits until it is told to take over, and then leaves one cache', async () => {
  const old = await serveBuilt();
  const browser = await launchBrowser();
  const page = await (await browser.newContext()).newPage();
  await page.goto(old.address);
  await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
  // Only a page that the worker itself has answered keeps a newer one waiting.
  await page.reload();
  await old.stop();

  const served = await serveBuilt({ dir: newer, port: old.port });
  const states = await page.evaluate(async () => {
    const pauseMs = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));
    const registration = await navigator.serviceWorker.ready;
    const before = registration.active;
    await registration.update();
    for (let turn = 0; turn < 100 && registration.waiting === null; turn += 1) await pauseMs(50);
    const waiting = registration.waiting;
    // Longer than a worker that takes over by itself would need.
    await pauseMs(1000);
    const waits = waiting !== null && registration.waiting === waiting;
    waiting?.postMessage({ type: 'anything else' });
    await pauseMs(500);
    const stillWaits = waiting !== null && registration.waiting === waiting;
    waiting?.postMessage({ type: 'SKIP_WAITING' });
    for (let turn = 0; turn < 100 && waiting?.state !== 'activated'; turn += 1) await pauseMs(50);
    return { waits, stillWaits, tookOver: registration.active === waiting, before: before?.state };
  });
  expect(states).toEqual({ waits: true, stillWaits: true, tookOver: true, before: 'redundant' });
  await page.reload();
  expect(await page.locator('meta[name=version]').getAttribute('content')).toBe('999.0.0');
  const names = await page.evaluate(() => caches.keys());
  expect(names.filter((name) => name.includes('precache'))).toHaveLength(1);
  await browser.close();
  await served.stop();
});
