/**
 * The screen itself, in a real browser: heading, big tooth and bar name one thing in an etch round, what is
 * watched stands apart under its own name, the bar does not turn under a finger, and after a reload bar and
 * clock judge alike. Read from the page, in both orientations and in amber.
 */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { launchBrowser } from '../tools/browser.ts';
import { type Served, serveOneByOne } from '../tools/built-app.ts';
import { goOn, openToday, rehearse, watchPictures } from '../tools/chair-driver.ts';
import { pressTo } from '../tools/every-screen.ts';
import { holdClock } from '../tools/held-clock.ts';

const SIZES = [
  { width: 1180, height: 820 },
  { width: 820, height: 1180 },
] as const;

let served: Served;
let browser: Browser;
let page: Page;

beforeAll(async () => {
  served = await serveOneByOne();
  browser = await launchBrowser();
  const context = await browser.newContext({ viewport: SIZES[0] });
  await watchPictures(context);
  page = await context.newPage();
  await page.clock.install();
  await openToday(page, served.address);
  await rehearse(page, { title: 'Eight upper veneers', speed: 1 });
  await holdClock(page, 2000);
}, 120_000);

afterAll(async () => {
  await browser.close();
  await served.stop();
});

async function pass(ms: number): Promise<void> {
  await page.clock.runFor(ms);
}

/** What the page says, as text: nothing of the functions behind it. */
async function read() {
  const text = (selector: string) => page.locator(selector).allInnerTexts();
  const teeth = (words: string) => [...new Set(words.match(/\b[1-4][1-8]\b/g) ?? [])];
  const [heading = ''] = await text('.lw-step-line');
  const [bar = ''] = await text('.lw-bar-words');
  const [sub = ''] = await text('.lw-bar-sub');
  return {
    heading: heading.replace(/\s+/g, ' '),
    bar,
    sub,
    headed: teeth(heading),
    named: teeth(bar),
    big: await text('.lw-tooth[data-active="true"] .lw-tooth-label'),
    watched: (await text('.lw-watch-label')).map((each) => each.replace(/\s+/g, ' ')),
    levels: await page
      .locator('.lw-watch')
      .evaluateAll((all) => all.map((each) => each.getAttribute('data-level'))),
    giant: await page.locator('.chair-clock .lw-clock').count(),
  };
}

async function inBoth(check: (seen: Awaited<ReturnType<typeof read>>) => void): Promise<void> {
  for (const size of SIZES) {
    await page.setViewportSize(size);
    await pass(200);
    check(await read());
    // The way back is one tap from the bar, and stands once.
    const wrong = page.locator('main.chair').getByRole('button', { name: 'Went wrong' });
    expect(await wrong.filter({ visible: true }).count()).toBe(1);
    for (const each of await page.locator('.lw-watch').all()) {
      const box = await each.boundingBox();
      expect(box === null ? 0 : box.x + box.width).toBeLessThanOrEqual(size.width);
      expect(box === null ? 0 : box.y + 60).toBeLessThanOrEqual(size.height);
    }
  }
  await page.setViewportSize(SIZES[0]);
}

async function press(): Promise<void> {
  await page.keyboard.press('Space');
  await pass(600);
}

test('in an etch round the next tooth is in hand and the one before is watched', async () => {
  await pressTo(page, /^Gel on 11/);
  await press();
  await pass(3000);
  await inBoth((seen) => {
    expect(seen).toMatchObject({ heading: 'Etch 21', bar: 'Gel on 21', big: ['21'], giant: 0 });
    expect(seen.watched).toEqual(['Etch 11']);
  });
}, 120_000);

test('the bar does not turn under a finger', async () => {
  while ((await read()).bar.startsWith('Gel on')) {
    await pass(100);
    if ((await read()).bar.startsWith('Gel on 21')) continue;
    break;
  }
  // It has turned by itself within the last tenth of a second: a press means what stood there.
  expect((await read()).bar).toBe('Rinse 11');
  await page.keyboard.press('Space');
  await pass(600);
  const seen = await read();
  expect(await page.locator('.lw-undo-what').textContent()).toBe('Gel on 21');
  expect(seen.headed).toEqual(seen.named);
}, 120_000);

test('after a reload bar and clock judge alike', async () => {
  await page.clock.resume();
  await page.goto(served.address);
  await page.getByRole('heading', { name: 'Today', level: 1 }).waitFor();
  await goOn(page);
  await holdClock(page, 1000);
  // An undo is offered for ten seconds after the press, and not anew by going on.
  await pass(10_500);
  const undo = page.locator('.lw-undo');
  expect(await undo.getAttribute('data-empty')).toBe('true');
  await page.clock.resume();
  await page.goto(served.address);
  await goOn(page);
  expect(await undo.getAttribute('data-empty')).toBe('true');
  await holdClock(page, 1000);
  for (let n = 0; n < 60; n += 1) {
    await pass(1000);
    const seen = await read();
    const isOver = seen.levels.includes('broken') && seen.watched.some((w) => w.startsWith('Etch'));
    const isGiantOver = (await page.locator('.lw-clock[data-phase="over"]').count()) > 0;
    if (!isOver && !isGiantOver) continue;
    // Where a clock may be over its limit, the bar asks for its end and does not wait.
    expect(seen.bar).toMatch(/^Rinse 11/);
    expect(seen.sub).not.toMatch(/due in/);
    return;
  }
  throw new Error('the etch never came to its limit');
}, 120_000);

test('while cement is out its working time is large, named by its portion, in amber', async () => {
  await pressTo(page, / loaded$/);
  await inBoth((seen) => {
    expect(seen.watched).toContain('Portion 1');
    expect(seen.headed).toEqual(seen.named);
  });
  expect(await page.locator('.lw-window-label', { hasText: 'Warm-up' }).count()).toBe(0);
  expect(await page.evaluate(() => document.documentElement.dataset['theme'])).toBe('amber');
}, 120_000);

const tap = async (name: string | RegExp): Promise<void> => {
  await page.getByRole('button', { name }).click();
  await pass(500);
};

test('a firm bead changes the bar at once to its two answers, and the key takes the one it says', async () => {
  await press();
  const before = await read();
  // Six taps fit beside one another on this tablet held upright; a second row would cover the instruction.
  await page.setViewportSize(SIZES[1]);
  const taps = await page.locator('.chair-at-hand > .lw-button').all();
  const tops = await Promise.all(taps.map(async (each) => (await each.boundingBox())?.y));
  expect([taps.length, new Set(tops).size]).toEqual([6, 1]);
  await page.setViewportSize(SIZES[0]);
  await tap(/^Bead of portion 1: firm$/i);
  await inBoth((seen) => {
    expect(seen.bar).toBe('Start portion 1 again');
    expect(seen.heading).toMatch(/portion 1$/);
    expect([seen.big, seen.giant]).toEqual([[], 0]);
    expect(seen.watched).toContain('Portion 1');
  });
  const answers = page.getByRole('alert', { name: 'Answer now' });
  expect(await answers.getByRole('button').allInnerTexts()).toEqual([before.bar]);
  await press();
  // What was loaded is wiped out first, in words for that unit.
  await inBoth((seen) => {
    expect(seen.bar).toBe('11 wiped out, dry');
    expect(seen.headed).toEqual(['11']);
    expect(seen.big).toEqual(['11']);
  });
  await tap(/^Undo/);
  await tap(/^Undo/);
  expect((await read()).bar).toBe(before.bar);
}, 60_000);

test('a unit that falls is left for last in the same press, and the others go on', async () => {
  await pressTo(page, /^21 loaded$/);
  await press();
  expect((await read()).bar).toBe('21 seated');
  await tap('21 dropped');
  // A loose unit in a mouth is looked for before anything else.
  expect((await read()).bar).toBe('21 found, whole');
  await press();
  await inBoth((seen) => {
    expect(seen.named).not.toContain('21');
    expect(seen.headed).toEqual(seen.named);
    expect(seen.named).toHaveLength(1);
  });
}, 60_000);
