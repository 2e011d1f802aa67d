/** A drill in the built app whose thread does not come at first, and which a case of a patient ends. */
import { Buffer } from 'node:buffer';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { PASSPHRASE, preparedBackup, TITLE } from '../chair/one-unit.ts';
import { launchBrowser } from '../tools/browser.ts';
import { type Served, serveBuilt } from '../tools/built-app.ts';
import { openToday } from '../tools/chair-driver.ts';
import { isLong } from '../tools/run-size.ts';

const SIZE = { width: 1180, height: 820 };
const PICTURES = process.env['LUTEWATCH_DRILL_PICTURES'];

let served: Served;
let browser: Browser;
let page: Page;

beforeAll(async () => {
  if (!isLong) return;
  const [backup, serving, launched] = await Promise.all([
    preparedBackup(Date.now()),
    serveBuilt(),
    launchBrowser(),
  ]);
  [served, browser] = [serving, launched];
  // A service worker would fetch in the place of the page.
  const context = await browser.newContext({ viewport: SIZE, serviceWorkers: 'block' });
  page = await context.newPage();
  await page.goto(`${served.address}backup`);
  const buffer = Buffer.from(backup);
  const file = { name: 'a.backup', mimeType: 'application/octet-stream', buffer };
  await page.locator('input[type=file]').setInputFiles(file);
  await page.getByLabel('Passphrase').last().fill(PASSPHRASE);
  await page.getByRole('button', { name: 'Restore' }).click();
  await page.getByText('The backup is restored').waitFor();
}, 120_000);

afterAll(async () => {
  if (!isLong) return;
  await browser.close();
  await served.stop();
});

const button = (name: string | RegExp) => page.getByRole('button', { name });
const chair = () => page.locator('main.chair');

test.runIf(isLong)(
  'what draws it comes at the second press; the case of the patient ends it and says so',
  async () => {
    const drill = `Drill ${TITLE}`;
    await page.route('**/answer-drill-*.js', (route) => route.abort());
    await openToday(page, served.address);
    await button(drill).click();
    await page.getByText('The drill could not be drawn.').waitFor();
    await page.unroute('**/answer-drill-*.js');
    await button(drill).click();
    await page.locator('.drill-line').waitFor();
    const drillRecords = Number(await chair().getAttribute('data-records'));
    expect(drillRecords).toBeGreaterThan(1);

    await page.goBack();
    await button(`Begin ${TITLE}`).click();
    await page.getByText('A patient’s case was opened, so the drill was ended.').waitFor();
    await chair().waitFor();
    expect(await page.locator('.drill-card').count()).toBe(0);
    expect(Number(await chair().getAttribute('data-records'))).toBeLessThan(drillRecords);
    if (PICTURES !== undefined) await page.screenshot({ path: `${PICTURES}/ended-by-patient.png` });
    await button('Seen').click();
    await page.locator('.drill-line').waitFor({ state: 'detached' });
    await page.goto(`${served.address}drill`);
    await page.getByRole('link', { name: /, seed \d+$/ }).click();
    await page.getByRole('heading', { name: 'After the drill' }).waitFor();
  },
  60_000,
);
