/** Two windows of the application on one device: one runs the case, the other is view only. */
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { launchBrowser } from '../tools/browser.ts';
import { type Served, serveOneByOne } from '../tools/built-app.ts';
import {
  goOn,
  openToday,
  pressOnce,
  pressUntil,
  readBar,
  readRecords,
  rehearse,
  storedPresses,
} from '../tools/chair-driver.ts';
import { cover, hidesPages, openRawWindow, toAcidInTab, waitInTab } from './raw-tab.ts';
import { madeAhead } from './walked.ts';

const CASE = 'Eight upper veneers';
/** Another window follows, or says that it does not, within a second. */
const FOLLOW_MS_MAX = 1000;
/** What polling from outside adds to a reading. */
const POLL_MS = 60;
/** Seconds are read from outside here: a reading that a busy machine spoilt is taken again. */
const TAKEN_AGAIN = { retry: 4 };

let served: Served;
let browser: Browser;
let nextRunner: () => Promise<Page>;
let context: BrowserContext;
let runner: Page;

beforeAll(async () => {
  served = await serveOneByOne();
  browser = await launchBrowser();
  // One for each test that presses.
  nextRunner = madeAhead(5, runToAcid);
});

afterAll(async () => {
  await browser.close();
  await served.stop();
});

/** A window that runs a case, with acid asked for next. */
async function runToAcid(): Promise<Page> {
  const own = await browser.newContext({ viewport: { width: 1180, height: 820 } });
  const page = await own.newPage();
  await openToday(page, served.address);
  await rehearse(page, { title: CASE, speed: 1 });
  await pressUntil(page, /^Acid on/);
  return page;
}

/** Takes one of the running windows for this test, and closes all of it afterwards. */
function withRunner(): void {
  beforeEach(async () => {
    runner = await nextRunner();
    context = runner.context();
  });

  afterEach(() => context.close());
}

async function openReader(): Promise<Page> {
  const reader = await context.newPage();
  await openToday(reader, served.address);
  await reader
    .getByText('Another window of this tablet writes the record. This one is view only.')
    .waitFor();
  return reader;
}

async function openFarView(): Promise<Page> {
  const farView = await context.newPage();
  await farView.goto(`${served.address}far-view`);
  await farView.locator('main.far-view[data-stale="false"]').waitFor();
  return farView;
}

/** How long it takes until `selector` is there, in ms. */
async function timeUntil(page: Page, selector: string): Promise<number> {
  const startedAtMs = performance.now();
  await page.locator(selector).first().waitFor({ timeout: 5000 });
  return performance.now() - startedAtMs;
}

describe('a second window', () => {
  withRunner();

  test('reads along live, and takes no press', async () => {
    const reader = await openReader();
    await goOn(reader);
    expect(await reader.getByText('VIEW ONLY').count()).toBe(1);
    for (let press = 0; press < 3; press += 1) {
      await pressOnce(runner);
      const { words } = await readBar(runner);
      const startedAtMs = performance.now();
      await expect
        .poll(async () => (await readBar(reader)).words, { interval: 20, timeout: 5000 })
        .toBe(words);
      const followMs = performance.now() - startedAtMs;
      console.info(`followed after ${followMs.toFixed(0)} ms: ${words}`);
      expect(followMs).toBeLessThan(FOLLOW_MS_MAX);
    }
    const before = await readRecords(runner);
    await reader.keyboard.press('Space');
    await reader.locator('.lw-bar').click({ force: true });
    await reader.waitForTimeout(700);
    expect(await readRecords(runner)).toEqual(before);
    expect((await readRecords(reader)).records).toBe(before.records);
  });

  test('is refused the writing while a case runs, and takes it over when that window is gone', async () => {
    await pressOnce(runner);
    const presses = await storedPresses(runner);
    const reader = await openReader();
    await reader.getByRole('button', { name: 'Take over here' }).click();
    await reader.getByText('The other window is running a case and stays in charge.').waitFor();
    await pressOnce(runner);
    await runner.close();
    await reader.getByRole('button', { name: 'Take over here' }).click();
    await reader
      .getByText('Another window of this tablet writes the record. This one is view only.')
      .waitFor({ state: 'detached' });
    await goOn(reader);
    // The press of the other window.
    const taken = await storedPresses(reader);
    expect(taken).toBeGreaterThan(presses);
    // It is in the case here, and so is the time that nobody watched.
    await expect
      .poll(async () => (await readRecords(reader)).records, { timeout: 10_000 })
      .toBeGreaterThan(taken);
    await pressOnce(reader);
    expect(await storedPresses(reader)).toBeGreaterThan(taken);
  });
});

const isStale = "document.querySelector('main.far-view')?.dataset.stale";

describe('the far view', () => {
  withRunner();

  test('shows the running clock within a second of the press', async () => {
    const farView = await openFarView();
    expect(await farView.getByRole('timer').count()).toBe(0);
    const pressed = pressOnce(runner);
    const followMs = await timeUntil(farView, '[role=timer]');
    await pressed;
    console.info(`the far view shows the clock after ${followMs.toFixed(0)} ms`);
    expect(followMs).toBeLessThan(FOLLOW_MS_MAX);
    const own = await runner.locator('.lw-clock-figure, .lw-watch-figure').first().textContent();
    const far = await farView.locator('.lw-clock-figure, .lw-watch-figure').first().textContent();
    const seconds = [own, far].map((figure) => Number((figure ?? '').split(':')[1]));
    expect(Math.abs((seconds[0] ?? 0) - (seconds[1] ?? 99))).toBeLessThanOrEqual(1);
  });

  test(
    'goes grey and says so within a second when the running window hangs, and revives',
    TAKEN_AGAIN,
    async () => {
      await pressOnce(runner);
      const farView = await openFarView();
      const hanging = runner.evaluate(() => {
        const untilMs = performance.now() + 3000;
        while (performance.now() < untilMs);
      });
      // When the reading is taken again, the page is closed while it still hangs.
      hanging.catch(() => undefined);
      const staleMs = await timeUntil(farView, 'main.far-view[data-stale="true"]');
      console.info(`grey ${staleMs.toFixed(0)} ms after the running window hung`);
      expect(staleMs).toBeLessThan(FOLLOW_MS_MAX + POLL_MS);
      expect(await farView.getByRole('alert').textContent()).toContain('Not live');
      await hanging;
      const liveMs = await timeUntil(farView, 'main.far-view[data-stale="false"]');
      expect(liveMs).toBeLessThan(FOLLOW_MS_MAX + POLL_MS);
    },
  );

  test('goes grey within a second when the running window is closed', TAKEN_AGAIN, async () => {
    await pressOnce(runner);
    const farView = await openFarView();
    await runner.close();
    const staleMs = await timeUntil(farView, 'main.far-view[data-stale="true"]');
    console.info(`grey ${staleMs.toFixed(0)} ms after the running window was closed`);
    expect(staleMs).toBeLessThan(FOLLOW_MS_MAX + POLL_MS);
  });
});

describe('the far view in front of the running window', () => {
  test('stays live, and goes grey when that one is frozen', TAKEN_AGAIN, async (t) => {
    const isEverHidden = await hidesPages();
    t.skip(!isEverHidden, 'this browser never hides a page, and freezes only hidden ones');
    const window = await openRawWindow();
    const tab = await window.openTab(served.address);
    await toAcidInTab(tab);
    const farView = await window.openTab(`${served.address}far-view`);
    const isHidden = await cover(tab, farView);
    await waitInTab(farView, `${isStale} === 'false'`);
    await new Promise((resolve) => setTimeout(resolve, 2500));
    const afterHiding = await farView.evaluate(isStale);
    const frozenAtMs = performance.now();
    await tab.setFrozen({ isFrozen: true });
    if (isHidden) await waitInTab(farView, `${isStale} === 'true'`);
    const staleMs = performance.now() - frozenAtMs;
    await window.close();
    t.skip(!isHidden, 'this browser never hides a page, and freezes only hidden ones');
    expect(afterHiding).toBe('false');
    console.info(`grey ${staleMs.toFixed(0)} ms after the hidden running window was frozen`);
    expect(staleMs).toBeLessThan(FOLLOW_MS_MAX + POLL_MS);
  });
});
