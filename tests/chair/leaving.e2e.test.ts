/** The chair is left while a case runs: the case is not. */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { launchBrowser } from '../tools/browser.ts';
import { type Served, serveBuilt } from '../tools/built-app.ts';
import {
  goOn,
  openToday,
  pressOnce,
  pressUntil,
  rehearse,
  storedPresses,
  watchPictures,
} from '../tools/chair-driver.ts';

let served: Served;
let browser: Browser;
let page: Page;

beforeAll(async () => {
  served = await serveBuilt();
  browser = await launchBrowser();
  const context = await browser.newContext({ viewport: { width: 1180, height: 820 } });
  await watchPictures(context);
  page = await context.newPage();
});

afterAll(async () => {
  await browser.close();
  await served.stop();
});

test('left and gone on with, it asks nothing; every page shows it, in both orientations', async () => {
  await openToday(page, served.address);
  await rehearse(page, { title: 'Eight upper veneers', speed: 1 });
  await pressUntil(page, /^Acid on 11/);
  await pressOnce(page);
  const presses = await storedPresses(page);
  await page.locator('.chair-ends').getByRole('button', { name: 'More' }).click();
  await page.getByRole('button', { name: 'Leave the chair' }).click();
  const line = page.getByRole('complementary', { name: 'Running case' });
  await line.waitFor();
  const count = line.locator('.running-line-count').first();
  const first = await count.textContent();
  await expect.poll(() => count.textContent(), { timeout: 10_000 }).not.toBe(first);
  for (const width of [1180, 820]) {
    await page.setViewportSize({ width, height: width === 1180 ? 820 : 1180 });
    await page.getByRole('link', { name: 'Clinic' }).click();
    await expect.poll(() => line.isVisible()).toBe(true);
    await page.getByRole('link', { name: 'Today' }).click();
    await page.getByRole('heading', { name: 'Today', level: 1 }).waitFor();
    await expect.poll(() => line.isVisible()).toBe(true);
  }
  await goOn(page);
  expect(await storedPresses(page)).toBe(presses);
  expect(await page.getByText('The clocks run on').count()).toBe(0);
}, 60_000);

test('the far view shows the case that runs on the tablet, not a fast rehearsal that was left', async () => {
  await openToday(page, served.address);
  await rehearse(page, { title: 'Two upper central veneers', speed: 60 });
  await pressOnce(page);
  await page.locator('.chair-ends').getByRole('button', { name: 'More' }).click();
  await page.getByRole('button', { name: 'Leave the chair' }).click();
  await openToday(page, served.address);
  await rehearse(page, { title: 'Eight upper veneers', speed: 1 });
  for (let n = 0; n < 3; n += 1) await pressOnce(page);
  const textOf = async (seen: Page, selector: string) =>
    (await seen.locator(selector).textContent())?.replaceAll(/\s/g, '');
  const words = await textOf(page, '.lw-step-line');
  expect(words).toBeTruthy();
  const farView = await page.context().newPage();
  await farView.goto(`${served.address}far-view`);
  await farView.locator('main.far-view[data-stale="false"]').waitFor();
  expect(await textOf(farView, '.far-view-step')).toBe(words);
  await farView.close();
}, 25_000);
