/**
 * A list in a real browser: ticked and answered by touch, pressed by keyboard and by pedal. What is
 * unanswered stays due, what is ticked is recorded with its own evidence, and nothing hides the bar.
 */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { BOUNCE_MS } from '../../src/runtime/keys/bounce.ts';
import { launchBrowser } from '../tools/browser.ts';
import { type Served, serveBuilt } from '../tools/built-app.ts';
import {
  openToday,
  pressUntil,
  readBar,
  readRecords,
  rehearse,
  storedEvents,
  storedPresses,
  waitForRecords,
} from '../tools/chair-driver.ts';

/** A gloved finger; this project's measure for a row. */
const ROW_PX = 60;

let served: Served;
let browser: Browser;
let page: Page;

beforeAll(async () => {
  served = await serveBuilt();
  browser = await launchBrowser();
  const context = await browser.newContext({
    viewport: { width: 1180, height: 820 },
    hasTouch: true,
  });
  page = await context.newPage();
  await openToday(page, served.address);
  await rehearse(page, { title: 'Eight upper veneers', speed: 1 });
}, 120_000);

afterAll(async () => {
  await browser.close();
  await served.stop();
});

/** What the store holds of each line that was confirmed. */
async function storedLines(): Promise<readonly string[]> {
  return (await storedEvents(page)).flatMap((event) =>
    event['type'] === 'step-confirmed' && event['list'] !== undefined
      ? [`${event['step']}: ${event['evidence'] ?? ''}`]
      : [],
  );
}

/** Nothing is answered for the person who presses. */
async function press(key: string): Promise<void> {
  const { records } = await readRecords(page);
  await page.waitForTimeout(BOUNCE_MS + 10);
  await page.keyboard.press(key);
  await waitForRecords(page, { above: records });
}

const line = (title: string) =>
  page
    .locator('.chair-list > li')
    .filter({ has: page.getByRole('button', { name: title, exact: true }) });

/** How many of how many lines the bar says that it takes. */
async function counted(): Promise<readonly number[]> {
  const { words } = await readBar(page);
  return (/(\d+) of (\d+)/.exec(words) ?? []).slice(1).map(Number);
}

async function expectInSight(): Promise<void> {
  const bar = await page.locator('.lw-bar').boundingBox();
  const height = page.viewportSize()?.height ?? 0;
  expect((bar?.y ?? height) + (bar?.height ?? 0)).toBeLessThanOrEqual(height);
  const list = await page.locator('.chair-list').boundingBox();
  expect((list?.y ?? 0) + (list?.height ?? 0)).toBeLessThanOrEqual(bar?.y ?? 0);
  const rows = await page
    .locator('.chair-list > li, .chair-list button')
    .evaluateAll((all) => all.map((each) => each.getBoundingClientRect().height));
  expect(Math.min(...rows)).toBeGreaterThanOrEqual(ROW_PX);
  expect(await page.locator('.chair-side .lw-window').count()).toBeGreaterThan(0);
}

test('takes what is ticked or answered, by touch, key and pedal, and leaves the rest due', async () => {
  await pressUntil(page, /^Opening pause, /);
  await page.locator('.chair-list').waitFor();
  const [begun = 0, of = 0] = await counted();
  expect(begun).toBeGreaterThan(0);
  expect(begun).toBeLessThan(of);
  await expectInSight();

  await line('Sound, pedal').getByRole('button', { name: 'Sound heard, pedal works' }).tap();
  const charge = line('Tablet charge').getByRole('textbox');
  await charge.fill('full');
  await line('Tablet charge')
    .getByText('Tablet charge: expected a number from 0 to 100 %, got "full".')
    .waitFor();
  await charge.fill('92');
  await expect.poll(async () => (await counted())[0]).toBe(of - 2);
  await page.setViewportSize({ width: 820, height: 1180 });
  await expectInSight();

  // The pedal counts while the field still has the focus.
  await press('PageDown');
  const taken = await storedLines();
  expect(taken).toHaveLength(of - 2);
  expect(taken).toContain('signals: Sound heard, pedal works');
  expect(taken).toContain('charge: 92 %');
  expect(taken.some((each) => each.startsWith('light-checked'))).toBe(false);
  await page.getByText(`Opening pause, ${of - 2} lines`).waitFor();

  // Nothing is ticked of what is left: the key is refused, and it is said what is wanted.
  const presses = await storedPresses(page);
  await page.waitForTimeout(BOUNCE_MS + 10);
  await page.keyboard.press('Space');
  await page.getByText(/^Light check needs an answer/).waitFor();
  expect(await storedPresses(page)).toBe(presses);

  await line('Light check').getByRole('textbox').fill('1150');
  await press('Enter');
  const all = await storedLines();
  expect(all).toHaveLength(of);
  expect(all.find((each) => each.startsWith('light-checked'))).toMatch(/^light-checked: 1150 mW/);
});
