import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { launchPersistent } from '../tools/browser.ts';
import { serveBuilt } from '../tools/built-app.ts';
import { keptLater } from '../tools/kept-later.ts';

let profile = '';

beforeEach(async () => {
  profile = await mkdtemp(join(tmpdir(), 'lutewatch-profile-'));
});

afterEach(() => rm(profile, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 }));

/** Waits until the service worker has every file; only then may the network go away. */
async function kept(page: Page): Promise<void> {
  await page.evaluate(async () => {
    await navigator.serviceWorker.ready;
  });
}

test('after one visit the application starts in a new browser with its server gone', async () => {
  const served = await serveBuilt();
  const first = await launchPersistent(profile);
  const visit = await first.newPage();
  await visit.goto(served.address);
  await kept(visit);
  const left = await keptLater(visit);
  await first.close();
  await served.stop();

  await expect(fetch(served.address)).rejects.toThrow();
  const second = await launchPersistent(profile);
  const page = await second.newPage();
  const startedAtMs = performance.now();
  await page.goto(served.address);
  await page.locator('#root > *').first().waitFor();
  console.info(`cold start without a server: ${Math.round(performance.now() - startedAtMs)} ms`);
  expect(await page.title()).toContain('Lutewatch');

  await page.goto(`${served.address}record/some-case`);
  await page.locator('#root > *').first().waitFor();
  // What few visits need as well: it was never used before the server went.
  expect(left.some((path) => path.endsWith('.wasm'))).toBe(true);
  const answers = await page.evaluate(
    (paths) => Promise.all(paths.map(async (path) => (await fetch(path)).ok)),
    left,
  );
  expect(answers).toEqual(left.map(() => true));
  await second.close();
});

test('without a first visit nothing is there when the server is gone', async () => {
  const served = await serveBuilt();
  await served.stop();
  const context = await launchPersistent(profile);
  const page = await context.newPage();
  await expect(page.goto(served.address)).rejects.toThrow(/ERR_CONNECTION_REFUSED/);
  await context.close();
});
