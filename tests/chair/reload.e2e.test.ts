/** The page is loaded anew in the middle of a step, as after a slip of a finger. */
import type { Page } from 'playwright-core';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { builtInBrowser } from '../tools/built-in-browser.ts';
import {
  goOn,
  openToday,
  pressOnce,
  pressUntil,
  readBar,
  readClocks,
  readRecords,
  rehearse,
  storedPresses,
  waitForRecords,
  watchPictures,
} from '../tools/chair-driver.ts';
import { isLong } from '../tools/run-size.ts';

const SLACK_MS = 300;

/** One press begins the clock of every unit. */
const PRIMED = /wet with primer/;

const app = builtInBrowser();
let page: Page;

beforeEach(async () => {
  const context = await app.browser.newContext({ viewport: { width: 1180, height: 820 } });
  await watchPictures(context);
  page = await context.newPage();
  await openToday(page, app.address);
  await rehearse(page, { title: 'Eight upper veneers', speed: 1 });
  await pressUntil(page, PRIMED);
});

afterEach(() => page.context().close());

/** Loads the page again and takes the case up. Answers how long nobody watched, in ms. */
async function reloadAndGoOn(): Promise<number> {
  const leftAtMs = performance.now();
  await page.goto(app.address);
  await page.getByRole('heading', { name: 'Today', level: 1 }).waitFor();
  await goOn(page);
  return performance.now() - leftAtMs;
}

test('nothing pressed is lost, and the clocks are no less certain than the time away', async () => {
  const begunAtMs = await pressOnce(page);
  const bar = await readBar(page);
  const { records } = await readRecords(page);
  const presses = await storedPresses(page);
  const awayMs = await reloadAndGoOn();
  await waitForRecords(page, { above: records });
  // How long it is until due has gone on.
  expect((await readBar(page)).words).toBe(bar.words);
  expect(await storedPresses(page)).toBe(presses);
  const clocks = (await readClocks(page)).filter((c) => c.of === 'primer');
  expect(clocks).toHaveLength(8);
  for (const { subject, loMs, hiMs, atTestMs } of clocks) {
    const trueMs = atTestMs - begunAtMs;
    expect(loMs, subject).toBeLessThan(trueMs + SLACK_MS);
    expect(hiMs, subject).toBeGreaterThan(trueMs - SLACK_MS);
    // The last sign of life was at most a second before the page went.
    expect(hiMs - loMs, subject).toBeLessThan(awayMs + 1000 + SLACK_MS);
  }
});

test('where it was loaded anew the case is one press away, and other places begin at their top', async () => {
  await pressOnce(page);
  const bar = await readBar(page);
  await page.reload();
  await goOn(page);
  expect(new URL(page.url()).pathname).toBe('/chair');
  await expect.poll(() => readBar(page)).toEqual(bar);

  await page.goBack();
  await page.getByRole('heading', { name: 'Today', level: 1 }).waitFor();
  const plan = page.getByRole('button', { name: /^Plan of / }).last();
  await plan.scrollIntoViewIfNeeded();
  expect(await page.evaluate(() => window.scrollY)).toBeGreaterThan(0);
  await plan.click();
  await page.getByRole('heading', { name: 'Who does what, and the light' }).waitFor();
  expect(await page.evaluate(() => window.scrollY)).toBe(0);
});

test.runIf(isLong)('a press made before can still be taken back after it', async () => {
  await pressOnce(page);
  expect((await readBar(page)).words).toMatch(/^Air on/);
  const { records } = await readRecords(page);
  await reloadAndGoOn();
  await waitForRecords(page, { above: records });
  await page.getByRole('button', { name: /^Undo .*primer/ }).click();
  await expect.poll(async () => (await readBar(page)).words).toMatch(PRIMED);
  expect((await readClocks(page)).filter((c) => c.of === 'primer')).toEqual([]);

  await reloadAndGoOn();
  expect((await readBar(page)).words).toMatch(PRIMED);
});
