/** A drill driven whole in the built app: from Today to its card, the right way back, what is told, again, and the end. */
import { mkdir } from 'node:fs/promises';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { launchBrowser } from '../tools/browser.ts';
import { type Served, serveBuilt } from '../tools/built-app.ts';
import { openToday } from '../tools/chair-driver.ts';

/**
 * What this seed draws of two veneers on a tablet that has done no drill, found by drawing: a clear drop in the inner
 * face of 21, some 45 s after the beginning, that comes although nobody presses anything.
 */
const SEED = 179;
const CARD = 'A clear drop lies in the inner face of 21.';
const PICTURES = process.env['LUTEWATCH_DRILL_PICTURES'];
const WIDE = { width: 1180, height: 820 };
const TALL = { width: 820, height: 1180 };

let served: Served;
let browser: Browser;
let context: BrowserContext;
let page: Page;

beforeAll(async () => {
  [served, browser] = await Promise.all([serveBuilt(), launchBrowser()]);
  context = await browser.newContext({ viewport: WIDE });
  await context.addInitScript((seed) => {
    // The draw of the seed is the only one that asks for a single 32-bit number.
    const drawn = crypto.getRandomValues.bind(crypto);
    crypto.getRandomValues = <T extends ArrayBufferView | null>(array: T): T => {
      if (!(array instanceof Uint32Array) || array.length !== 1) return drawn(array as never) as T;
      array[0] = seed * 2;
      return array;
    };
  }, SEED);
  await context.clock.install();
  page = await context.newPage();
  await openToday(page, served.address);
}, 120_000);

afterAll(async () => {
  await browser.close();
  await served.stop();
});

async function picture(name: string): Promise<void> {
  if (PICTURES === undefined) return;
  await mkdir(PICTURES, { recursive: true });
  for (const [shape, size] of [
    ['wide', WIDE],
    ['tall', TALL],
  ] as const) {
    await page.setViewportSize(size);
    await page.screenshot({ path: `${PICTURES}/${name}-${shape}.png` });
  }
  await page.setViewportSize(WIDE);
}

const button = (name: string | RegExp) => page.getByRole('button', { name });
const card = () => page.locator('.drill-card');

async function takeWayBack(): Promise<void> {
  await button(/^More/).last().click();
  await button('Went wrong').last().click();
  await button('Saliva in a primed unit').first().click();
  await picture('way-back');
  await button('21').last().click();
}

test('begun with one tap, answered, told, taken up again', async () => {
  await picture('today');
  await button('Drill Two upper central veneers').click();
  await page.locator('main.chair').waitFor();
  await page.locator('.drill-line').waitFor();
  await picture('begun');
  expect(await card().count()).toBe(0);
  await page.clock.fastForward(46_000);
  await card().waitFor();
  expect(await card().textContent()).toContain(CARD);
  await picture('card');
  await takeWayBack();
  await page.waitForTimeout(1500);
  await picture('taken');
  await button('End the drill').click();
  await page.getByRole('heading', { name: 'After the drill', level: 1 }).waitFor();
  await page.getByRole('heading', { name: 'Card by card' }).waitFor();
  await picture('debrief');
  await page.getByRole('button', { name: 'What is due' }).click();
  await page.getByRole('heading', { name: 'Drills', level: 1 }).waitFor();
  await page.getByRole('cell', { name: 'practising' }).waitFor();
  await picture('readiness');
}, 60_000);
