/**
 * A patient's case of one unit at its end, in the built app: what is signed, until when the contacts
 * stay closed, its finishing visit within the hold, and that nothing is begun twice. The hold: 24 h
 * since the last light, common practice.
 */
import { Buffer } from 'node:buffer';
import type { Browser, Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { launchBrowser } from '../tools/browser.ts';
import { type Served, serveBuilt } from '../tools/built-app.ts';
import { goOn, openToday, outwaitBounce, pressOnce, pressUntil } from '../tools/chair-driver.ts';
import { oneUnitBackup, PASSPHRASE, TITLE } from './one-unit.ts';

const WIDE = { width: 1180, height: 820 };
const TALL = { width: 820, height: 1180 };

let served: Served;
let browser: Browser;
let page: Page;

beforeAll(async () => {
  const [backup, serving, launched] = await Promise.all([
    oneUnitBackup(Date.now()),
    serveBuilt(),
    launchBrowser(),
  ]);
  served = serving;
  browser = launched;
  const context = await browser.newContext({ viewport: WIDE });
  page = await context.newPage();
  await page.goto(`${served.address}backup`);
  const file = {
    name: 'a.backup',
    mimeType: 'application/octet-stream',
    buffer: Buffer.from(backup),
  };
  await page.locator('input[type=file]').setInputFiles(file);
  await page.getByLabel('Passphrase').last().fill(PASSPHRASE);
  await page.getByRole('button', { name: 'Restore' }).click();
  await page.getByText('The backup is restored').waitFor();
}, 120_000);

afterAll(async () => {
  await browser.close();
  await served.stop();
});

/** In sight in both orientations: scrolled to where it has to be, and not wider than the screen. */
async function seenInBoth(found: Locator): Promise<void> {
  for (const size of [TALL, WIDE]) {
    await page.setViewportSize(size);
    await found.waitFor();
    await found.scrollIntoViewIfNeeded();
    const box = await found.boundingBox();
    expect(box?.width).toBeGreaterThan(0);
    expect((box?.x ?? -1) >= 0 && (box?.x ?? 0) + (box?.width ?? 0) <= size.width).toBe(true);
  }
}

test('from the signature to the finishing visit within its hold', async () => {
  await openToday(page, served.address);
  await goOn(page);
  // What was missed stands there: the time in which the tablet was off is one of it.
  const list = page.getByRole('list', { name: 'Kept and missed' });
  await seenInBoth(list.getByText(/^The app was closed/));
  await list.getByRole('button', { name: /^Add a word: The app was closed/ }).click();
  await page.keyboard.type('moved to another tablet');
  await page.keyboard.press('Enter');
  await seenInBoth(list.getByText('Said: moved to another tablet'));

  await pressUntil(page, /^Close the case|^Close/);
  await pressOnce(page);
  const stays = page.getByText(/^Contacts stay closed until \w{3} \d+ \w{3}, \d\d:\d\d$/);
  await seenInBoth(stays);
  expect(await page.getByText('No clock is running').count()).toBe(0);

  // Undoing the close takes the finishing visit back; closing again prepares it anew.
  await outwaitBounce(page);
  await page.locator('.chair-ends').getByRole('button', { name: /^Undo/ }).click();
  await stays.waitFor({ state: 'detached' });
  await pressOnce(page);
  await stays.waitFor();
  await page.locator('.chair-ends').getByRole('button', { name: 'More' }).click();
  await page.getByRole('button', { name: 'Leave the chair' }).click();
  await page.getByRole('heading', { name: 'Today', level: 1 }).waitFor();

  const visit = `${TITLE}, finishing visit`;
  const begin = page.getByRole('button', { name: `Begin ${visit}`, exact: true });
  await seenInBoth(begin);
  expect(await begin.count()).toBe(1);
  // The case itself was closed: it is begun nowhere any more.
  expect(await page.getByRole('button', { name: `Begin ${TITLE}`, exact: true }).count()).toBe(0);
  await begin.click();
  // The case was begun three hours ago: just after midnight its day is over before this one is.
  await seenInBoth(page.getByText(/^The hold since the last light runs until (today|tomorrow)/));
  await page.getByRole('button', { name: `Begin ${visit} all the same` }).click();
  await seenInBoth(page.getByText(/^The hold runs until \w{3} \d+ \w{3}, \d\d:\d\d$/));
}, 60_000);
