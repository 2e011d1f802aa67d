/** What is said must be in sight, and what is out of sight must not be pressed. */
import type { Browser, Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { launchBrowser } from '../tools/browser.ts';
import { type Served, serveBuilt } from '../tools/built-app.ts';
import {
  openToday,
  outwaitBounce,
  pressOnce,
  readBar,
  readRecords,
  rehearse,
  storedPresses,
  waitForRecords,
} from '../tools/chair-driver.ts';

const SIZE = { width: 1180, height: 820 };

let served: Served;
let browser: Browser;
let page: Page;

beforeAll(async () => {
  served = await serveBuilt();
  browser = await launchBrowser();
  page = await browser.newPage({ viewport: SIZE });
  await openToday(page, served.address);
});

afterAll(async () => {
  await browser.close();
  await served.stop();
});

/** Where the bottom edge of something stands, in px from the top of the screen. */
async function bottomOf(what: Locator): Promise<number> {
  const box = await what.boundingBox();
  return box === null ? Number.POSITIVE_INFINITY : box.y + box.height;
}

test('why a case did not begin, and what a form still asks for, come into sight', async () => {
  await page.getByRole('button', { name: 'Begin Eight upper veneers' }).click();
  const refusal = page.getByRole('alert').filter({ hasText: 'has not been confirmed' });
  await expect.poll(() => bottomOf(refusal)).toBeLessThan(SIZE.height + 1);

  await page.getByRole('button', { name: 'Set up a case' }).first().click();
  const keep = page.getByRole('button', { name: 'Save this case' });
  await page.getByLabel('Note').scrollIntoViewIfNeeded();
  await keep.click();
  const asked = page.getByText('Choose at least one tooth');
  const foot = page.locator('.set-up-foot');
  await expect
    .poll(async () => (await bottomOf(asked)) < ((await foot.boundingBox())?.y ?? 0))
    .toBe(true);
  expect(await bottomOf(asked)).toBeGreaterThan(0);
});

test('what was typed in set-up outlives a page that is loaded anew, until it is left', async () => {
  const note = page.getByLabel('Note');
  await note.fill('call first');
  await page.getByRole('button', { name: /^Tooth 11/ }).click();
  await page.reload();
  await expect.poll(() => note.inputValue()).toBe('call first');
  expect(await page.getByRole('listitem', { name: 'Unit 11' }).count()).toBe(1);
  await page.getByRole('button', { name: 'Leave without saving' }).click();
  await page.getByRole('button', { name: 'Set up a case' }).first().click();
  await expect.poll(() => note.inputValue()).toBe('');
});

test('who reads the record of a running case presses nothing in it', async () => {
  await openToday(page, served.address);
  await rehearse(page, { title: 'Two upper central veneers', speed: 1 });
  await pressOnce(page);
  const presses = await storedPresses(page);
  await page.goBack();
  await page
    .getByRole('button', { name: /^Record of / })
    .first()
    .click();
  await page.getByRole('heading', { name: 'Exposure given' }).waitFor();
  for (const key of ['Space', 'Enter', 'PageDown', 'Backspace']) {
    await outwaitBounce(page);
    await page.keyboard.press(key);
  }
  // The keys are the page's own again: it has scrolled.
  await expect.poll(() => page.evaluate(() => window.scrollY)).toBeGreaterThan(0);
  await page.goBack();
  await page.goForward();
  await page.getByRole('link', { name: 'Chair' }).click();
  await page.locator('main.chair').waitFor();
  expect(await storedPresses(page)).toBe(presses);
});

test('two quick taps begin one case, and take back one press', async () => {
  await openToday(page, served.address);
  const unfinished = page.getByRole('button', { name: /^Go on with/ });
  await page.getByText('Not finished').waitFor();
  // The row comes with the list, a moment after its heading.
  await unfinished.first().waitFor();
  const before = await unfinished.count();
  await page.getByRole('button', { name: /^Rehearse Two upper central/ }).dblclick();
  await page.locator('main.chair').waitFor();
  await pressOnce(page);
  const offered = async () => (await readBar(page)).words.replace(/, \d+ of .*$/, '');
  const second = await offered();
  await pressOnce(page);
  expect(await offered()).not.toBe(second);
  const { records } = await readRecords(page);
  await page.locator('.lw-undo').dblclick();
  await waitForRecords(page, { above: records });
  // That press stands there again; with a second one taken back it would be the one before.
  await page.waitForTimeout(500);
  expect(await offered()).toBe(second);
  await page.goBack();
  await page.getByText('Running now').waitFor();
  expect(await unfinished.count()).toBe(before + 1);
});

// 44 px: Web Content Accessibility Guidelines 2.2, 2.5.5 Target Size (Enhanced).
test('the way back from a chair without a case has room for a finger', async () => {
  const fresh = await browser.newPage();
  await fresh.goto(`${served.address}chair`);
  const way = fresh.getByRole('main').getByRole('link', { name: 'Today' });
  await way.waitFor();
  expect((await way.boundingBox())?.height).toBeGreaterThanOrEqual(44);
  await fresh.close();
});
