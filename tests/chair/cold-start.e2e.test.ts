/** A tablet is switched on without a network in the middle of a case. */
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { launchPersistent } from '../tools/browser.ts';
import { serveOneByOne } from '../tools/built-app.ts';
import {
  goOn,
  openToday,
  pressOnce,
  pressUntil,
  readBar,
  rehearse,
} from '../tools/chair-driver.ts';

/** Loose: the machine of the test may be busy. The figures are printed. */
const TO_CHAIR_MS_MAX = 5000;

let profile = '';

beforeEach(async () => {
  profile = await mkdtemp(join(tmpdir(), 'lutewatch-profile-'));
});

afterEach(() => rm(profile, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 }));

/** Starts a new browser with the server gone and goes on with the case. Times are in ms. */
async function coldStart(address: string, o: { readonly cpuSlowdown: number }) {
  const startedAtMs = performance.now();
  const context = await launchPersistent(profile, { viewport: { width: 1180, height: 820 } });
  const page = await context.newPage();
  if (o.cpuSlowdown > 1) {
    const session = await context.newCDPSession(page);
    await session.send('Emulation.setCPUThrottlingRate', { rate: o.cpuSlowdown });
  }
  const browserAtMs = performance.now();
  await openToday(page, address);
  const todayAtMs = performance.now();
  await goOn(page);
  await page.locator('.lw-bar[aria-disabled="false"]').waitFor();
  const chairAtMs = performance.now();
  const bar = await readBar(page);
  await pressOnce(page);
  await context.close();
  console.info(
    `cold start, no server, processor slowed ${o.cpuSlowdown} times: ` +
      `browser ${(browserAtMs - startedAtMs).toFixed(0)} ms, ` +
      `first screen ${(todayAtMs - browserAtMs).toFixed(0)} ms later, ` +
      `chair ${(chairAtMs - todayAtMs).toFixed(0)} ms later`,
  );
  return { bar, toChairMs: chairAtMs - browserAtMs };
}

test('with the server gone, a new browser comes to the chair screen of the stored case', async () => {
  const served = await serveOneByOne();
  const context = await launchPersistent(profile);
  const page = await context.newPage();
  await openToday(page, served.address);
  await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
  await rehearse(page, { title: 'Eight upper veneers', speed: 1 });
  await pressUntil(page, /^Acid on 12/);
  await context.close();
  await served.stop();
  await expect(fetch(served.address)).rejects.toThrow();

  const usual = await coldStart(served.address, { cpuSlowdown: 1 });
  expect(usual.bar.words).toBe('Acid on 12');
  expect(usual.toChairMs).toBeLessThan(TO_CHAIR_MS_MAX);
  const slow = await coldStart(served.address, { cpuSlowdown: 6 });
  expect(slow.bar.words).toBe('Acid on 22');
  expect(slow.toChairMs).toBeLessThan(TO_CHAIR_MS_MAX * 3);
});
