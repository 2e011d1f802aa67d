/**
 * A pass of light in the built app: begun once the tones are heard, stopped, gone on with, one place
 * unticked, and due again; and a page that is loaded anew in the middle leaves nothing exposed.
 */
import { Buffer } from 'node:buffer';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { MEANT_BEFORE_MS } from '../../src/runtime/chair.ts';
import { BOUNCE_MS } from '../../src/runtime/keys/bounce.ts';
import { launchBrowser } from '../tools/browser.ts';
import { type Served, serveBuilt } from '../tools/built-app.ts';
import {
  goOn,
  newestPicture,
  openToday,
  outwaitBounce,
  pressOnce,
  readBar,
} from '../tools/chair-driver.ts';
import { atLightBackup, PASSPHRASE } from './at-light.ts';

const SHOTS = process.env['LUTEWATCH_SHOTS'];
/** Pictures take their time. */
const PACED = SHOTS === undefined ? { litS: 2, changeS: 1 } : { litS: 6, changeS: 4 };

let served: Served;
let browser: Browser;
let page: Page;

beforeAll(async () => {
  const [backup, serving, launched] = await Promise.all([
    atLightBackup(Date.now(), PACED),
    serveBuilt(),
    launchBrowser(),
  ]);
  served = serving;
  browser = launched;
  const context = await browser.newContext({ viewport: { width: 1180, height: 820 } });
  page = await context.newPage();
  await page.goto(`${served.address}backup`);
  const buffer = Buffer.from(backup);
  await page
    .locator('input[type=file]')
    .setInputFiles({ name: 'a.backup', mimeType: 'application/octet-stream', buffer });
  await page.getByLabel('Passphrase').last().fill(PASSPHRASE);
  await page.getByRole('button', { name: 'Restore' }).click();
  await page.getByText('The backup is restored').waitFor();
}, 120_000);

afterAll(async () => {
  await browser.close();
  await served.stop();
});

/** For whoever wants to look: pictures of both ways of holding the tablet. */
async function look(name: string): Promise<void> {
  if (SHOTS === undefined) return;
  for (const [width, height] of [
    [1180, 820],
    [820, 1180],
  ] as const) {
    await page.setViewportSize({ width, height });
    await page.waitForTimeout(80);
    await page.screenshot({ path: `${SHOTS}/${name}-${width}.png` });
  }
  await page.setViewportSize({ width: 1180, height: 820 });
}

const barSays = (words: RegExp) =>
  page.waitForFunction(
    ([source]) =>
      new RegExp(source ?? '').test(document.querySelector('.lw-bar-words')?.textContent ?? ''),
    [words.source],
    { timeout: PACED.litS * 6000, polling: 30 },
  );

const places = () =>
  page
    .getByRole('list', { name: 'Places of this pass' })
    .getByRole('listitem')
    .evaluateAll((rows) => rows.map((row) => row.getAttribute('data-state')));

/** Surfaces that count as exposed, whichever. */
const exposed = async (): Promise<number> => {
  const { view } = await newestPicture(page);
  return view.teeth.flatMap(({ surfaces }) => surfaces).filter(({ givenMs }) => givenMs > 0).length;
};

test('a pass is stopped, gone on with, unticked at one place and due there again', async () => {
  await openToday(page, served.address);
  await goOn(page);
  // The press that went on with the case lets the sound run: the tones were heard before.
  await barSays(/^Light pass on 11, 21, 12, facial, 3 places/);
  // The bar has turned over by itself: a press that follows at once means what stood there before.
  await page.waitForTimeout(MEANT_BEFORE_MS);
  await pressOnce(page);
  await barSays(/^Light stopped/);
  await look('running');
  await expect.poll(places).toEqual(['lit', 'to-come', 'to-come']);
  await page.locator('.lw-clock-words', { hasText: 'change to 2 of 3' }).waitFor();
  await look('change-over');
  await page.locator('.lw-clock-words', { hasText: 'light on, 2 of 3' }).waitFor();
  await pressOnce(page);
  await barSays(/^Light on again, 21, 12, 2 places left/);
  await expect.poll(places).toEqual(['led', 'cut', 'to-come']);
  expect(await page.getByRole('button', { name: /^11 lit, facial$/ }).count()).toBe(1);
  await look('stopped');
  await pressOnce(page);
  await barSays(/^11, 21, 12 lit, on to lingual, 3 places/);
  expect(await exposed()).toBe(0);
  await outwaitBounce(page);
  await page.getByRole('button', { name: /^21, facial/ }).click();
  await barSays(/^11, 12 lit, facial, 2 places/);
  await look('over');
  await pressOnce(page);
  expect(await exposed()).toBe(2);
  await barSays(/^Light on 21, facial/);
});

test('a page that is loaded anew in the middle of a pass leaves nothing exposed', async () => {
  const before = await exposed();
  await page.waitForTimeout(BOUNCE_MS);
  await pressOnce(page);
  await barSays(/^Light stopped/);
  await openToday(page, served.address);
  await goOn(page);
  await page.locator('.chair-pass').waitFor();
  await page.waitForTimeout(1000 * (PACED.litS + PACED.changeS));
  expect(await exposed()).toBe(before);
  const { words } = await readBar(page);
  expect(words).toMatch(/^(Light on again|Nothing was lit)/);
});
