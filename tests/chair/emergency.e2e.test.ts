/**
 * The emergency cards in the whole application: two taps from every screen, over a running case, kept
 * through a reload, noted in the record, without a network. What a card must name is from the sources
 * that stand beside it; here the times are read from the page's own clock.
 */
import { AxeBuilder } from '@axe-core/playwright';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, expect, test } from 'vitest';
import { EMERGENCY_CARDS } from '../../src/engine/aside-types.ts';
import { emergency } from '../../src/words/en/emergency.ts';
import { launchBrowser } from '../tools/browser.ts';
import { type Served, serveBuilt } from '../tools/built-app.ts';
import {
  lastPicture,
  openToday,
  pressUntil,
  readClocks,
  readRecords,
  rehearse,
  waitForRecords,
  watchPictures,
} from '../tools/chair-driver.ts';
import { go, setTheme, THEMES } from '../tools/every-screen.ts';
import { isLong } from '../tools/run-size.ts';

/** The smallest side of a touch target, in CSS px: this project's own, above 44 of WCAG 2.2. */
const TARGET_PX_MIN = 48;

let served: Served;
let browser: Browser;
let context: BrowserContext;
let page: Page;

beforeAll(async () => {
  served = await serveBuilt();
  browser = await launchBrowser();
});

afterAll(async () => {
  await browser.close();
  await served.stop();
});

beforeEach(async () => {
  context = await browser.newContext({ viewport: { width: 1180, height: 820 } });
  await watchPictures(context);
  page = await context.newPage();
  await openToday(page, served.address);
});

afterEach(() => context.close());

const button = (name: string | RegExp) => page.getByRole('button', { name, exact: true });
const dialog = () => page.locator('dialog.emergency');

/** The way of every screen: one tap, and one more. */
async function twoTaps(card: keyof typeof emergency.cards): Promise<void> {
  const first = page.getByRole('button', { name: /^Emergency/ }).last();
  const box = await first.boundingBox();
  expect(Math.min(box?.width ?? 0, box?.height ?? 0)).toBeGreaterThanOrEqual(TARGET_PX_MIN);
  await first.click();
  await dialog().getByRole('button', { name: emergency.cards[card].title }).click();
  await page.getByRole('heading', { name: emergency.cards[card].title }).waitFor();
}

const figure = async (): Promise<number> => {
  const text = await page.locator('.emergency-figure').textContent();
  const [minutes = 0, seconds = 0] = (text ?? '').split(':').map(Number);
  return minutes * 60 + seconds;
};

const PLACES = ['/', '/set-up', '/record', '/protocols', '/materials', '/clinic', '/clinic/card'];

/** The first and every third place in every run; the button is a part of the frame of all. */
test.each(PLACES.filter((_, n) => isLong || n % 3 === 0))(
  'two taps from %s open a card, and closing it leads back there',
  async (path) => {
    await go(page, path);
    await twoTaps('choking');
    await button(emergency.end).click();
    await dialog().waitFor({ state: 'detached' });
    expect(new URL(page.url()).pathname).toBe(path);
  },
);

test('every card opens in a few taps, says its number, source and lines, and no dose', async () => {
  for (const id of EMERGENCY_CARDS) {
    await twoTaps(id);
    const text = (await dialog().textContent()) ?? '';
    expect(text).toContain(emergency.noNumber);
    expect(text).toContain(emergency.cards[id].source);
    for (const line of Object.values(emergency.cards[id].lines)) expect(text).toContain(line);
    expect(text).not.toMatch(/\d\s*(mg|µg|mcg|IU|mL\/kg)\b/);
    expect(text).toContain(emergency.notRecorded);
    await button(emergency.end).click();
  }
});

test('a number and a protocol of the clinic stand at the head of every card', async () => {
  await go(page, '/clinic');
  await page.getByLabel(emergency.setting.number).fill('9 112');
  await page.getByLabel(emergency.setting.protocol, { exact: true }).fill('Second room: fetch bag');
  await page.getByLabel(emergency.setting.poison).fill('040 555');
  // A setting is stored with each letter, and the last one is on its way.
  await page.waitForTimeout(1000);
  await page.reload();
  await openToday(page, served.address);
  await twoTaps('hydrofluoric-eye');
  await expect.poll(() => page.locator('.emergency-number strong').textContent()).toBe('9 112');
  expect(await page.locator('.emergency-protocol').textContent()).toContain('fetch bag');
  expect(await dialog().textContent()).toContain('Poison centre 040 555');
});

test('a card over the running chair in amber counts, is noted, and the case clocks run on', async () => {
  await rehearse(page, { title: 'Eight upper veneers', speed: 1 });
  await pressUntil(page, /^Acid off/);
  await setTheme(page, 'amber');
  const { records } = await readRecords(page);
  const before = (await readClocks(page)).find((c) => c.of === 'acid');
  await twoTaps('hydrofluoric-skin');
  await waitForRecords(page, { above: records });
  await page.getByRole('button', { name: /^Starts now: Rinse/ }).click();
  await waitForRecords(page, { above: records + 1 });
  await expect.poll(figure, { timeout: 10_000 }).toBeGreaterThanOrEqual(2);
  expect(await dialog().textContent()).toMatch(/Named time: 5\smin or 15\smin/);
  expect(await dialog().textContent()).toContain(emergency.recorded);
  // The clock of the acid is seen beside the card, and has gone on.
  expect(await page.locator('.emergency-beside').textContent()).toContain('Acid');
  const after = (await readClocks(page)).find((c) => c.of === 'acid');
  // One press began a whole round, so the clock is known between two figures.
  expect(after?.hiMs ?? 0).toBeGreaterThan((before?.hiMs ?? 0) + 1500);
  await page.getByRole('button', { name: /^Back/ }).click();
  await page.locator('main.chair').waitFor();
  // Undo still means the work: the last press was the gel of the acid, not the card.
  expect(await page.locator('.chair-ends').textContent()).not.toContain('Emergency');

  // Hidden, it runs on: the button says so, and a reload does not stop it.
  const shown = await figureOnButton();
  await page.reload();
  await page.getByRole('heading', { name: 'A rehearsal is not finished.' }).waitFor();
  await expect.poll(figureOnButton, { timeout: 10_000 }).toBeGreaterThan(shown);
  await page.getByRole('button', { name: /^Emergency/ }).click();
  expect(await dialog().textContent()).toContain(emergency.byWall);
  await page.getByRole('button', { name: /^Back/ }).click();
  await page
    .getByRole('button', { name: /^Go on/ })
    .first()
    .click();
  await page.locator('main.chair').waitFor();
  await page.getByRole('button', { name: /^Emergency/ }).click();
  await button(emergency.end).click();
  await waitForRecords(page, { above: records + 2 });

  await expect.poll(() => lastPicture(page)).not.toBeNull();
  const caseId = (await lastPicture(page))?.caseId ?? '';
  await go(page, `/record/${caseId}`);
  await page.getByRole('heading', { name: emergency.setting.title }).waitFor();
  const told = (await page.locator('article.record').textContent()) ?? '';
  const { title, lines } = emergency.cards['hydrofluoric-skin'];
  for (const words of [
    `Card opened: ${title}`,
    `${title}: ${lines.rinse}`,
    `Card ended: ${title}`,
  ]) {
    expect(told).toContain(words);
  }
  await twoTaps('unwell');
});

async function figureOnButton(): Promise<number> {
  const text = await page.locator('.lw-emergency-button').first().textContent();
  const [minutes = 0, seconds = 0] = (text ?? '').replace(/^\D+/, '').split(':').map(Number);
  return minutes * 60 + seconds;
}

test.runIf(isLong)('over an open sheet, and without a network, the way is as short', async () => {
  await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
  await served.stop();
  try {
    await page.reload();
    await page.getByRole('heading', { name: 'Today', level: 1 }).waitFor();
    await twoTaps('acid-eye');
    await button(emergency.end).click();
    await rehearse(page, { title: 'Eight upper veneers', speed: 10 });
    await page.locator('.chair-ends').getByRole('button', { name: 'More' }).click();
    await page.locator('dialog.lw-sheet[open]').waitFor();
    await twoTaps('allergic-reaction');
    // The cards count real time, however fast the rehearsal runs.
    await page.waitForTimeout(2000);
    expect(await figure()).toBeLessThan(10);
    await button(emergency.end).click();
    await page.locator('dialog.lw-sheet[open]').waitFor();
  } finally {
    served = await serveBuilt({ port: served.port });
  }
});

test('the choice and a card break no rule of WCAG 2.2 A and AA in any look', async () => {
  const rules = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];
  await page.getByRole('button', { name: /^Emergency/ }).click();
  for (const step of ['choice', 'card'] as const) {
    if (step === 'card') {
      await dialog()
        .getByRole('button', { name: emergency.cards['hydrofluoric-skin'].title })
        .click();
      await page.getByRole('button', { name: /^Starts now: Rinse/ }).click();
    }
    for (const theme of THEMES) {
      await setTheme(page, theme);
      const { violations } = await new AxeBuilder({ page }).withTags(rules).analyze();
      expect(violations.map(({ id, nodes }) => `${step} ${theme} ${id} ${nodes[0]?.html}`)).toEqual(
        [],
      );
    }
  }
});
