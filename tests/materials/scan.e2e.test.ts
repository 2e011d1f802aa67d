/**
 * Scanning in the built application: a scanner that types, a photograph read without a network, a
 * lot named at the chair and found again from the lot.
 */
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { toBuffer } from 'bwip-js/node';
import type { BrowserContext, Page } from 'playwright-core';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { launchPersistent } from '../tools/browser.ts';
import { type Served, serveBuilt } from '../tools/built-app.ts';
import { keptLater } from '../tools/kept-later.ts';

let profile = '';
let served: Served;
let context: BrowserContext;
let page: Page;

beforeEach(async () => {
  profile = await mkdtemp(join(tmpdir(), 'lutewatch-scan-'));
  served = await serveBuilt();
  context = await launchPersistent(profile);
  page = await context.newPage();
});

afterEach(async () => {
  await context.close();
  await served.stop();
  await rm(profile, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 });
});

async function openScan(): Promise<void> {
  await page.goto(`${served.address}materials`);
  await page.getByRole('button', { name: 'Scan a label' }).click();
}

async function photo(text: string): Promise<{ name: string; mimeType: string; buffer: Buffer }> {
  const options = { bcid: 'gs1datamatrix', text, scale: 5, paddingwidth: 12, paddingheight: 12 };
  const buffer = Buffer.from(await toBuffer({ ...options, backgroundcolor: 'FFFFFF' }));
  return { name: 'label.png', mimeType: 'image/png', buffer };
}

const readBack = (words: string) => page.locator('.scan-read').getByText(words, { exact: true });

test('a photograph of a label is read without a network once the decoder was fetched', async () => {
  await openScan();
  await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
  await page.getByText('The code reader is on this tablet.', { exact: false }).waitFor();
  await keptLater(page);
  await served.stop();
  await expect(fetch(served.address)).rejects.toThrow();

  await openScan();
  const label = await photo('(01)04012345678901(17)281100(10)AB-12(21)77');
  await page.getByLabel('Read a photograph').setInputFiles(label);
  await readBack('AB-12').waitFor();
  await readBack('04012345678901').waitFor();
  await page.getByText('its last day is meant', { exact: false }).waitFor();
});

test('a typing scanner is read wherever the focus is, and presses nothing', async () => {
  await openScan();
  await page.getByRole('button', { name: 'Close' }).focus();
  // Inside the page, because a scanner is faster than the way from this test to the browser.
  const wentOn = await page.evaluate(() => {
    const send = (key: string): boolean => {
      const event = new KeyboardEvent('keydown', { key, bubbles: true, cancelable: true });
      return document.activeElement?.dispatchEvent(event) ?? false;
    };
    for (const key of '+A99912345/$$52001510X33') send(key);
    return send('Enter');
  });
  expect(wentOn).toBe(false);
  await readBack('10X3').waitFor();
  await readBack('HIBC').waitFor();
});

test('a wrong check digit is never taken over', async () => {
  await openScan();
  await page.getByLabel('Or type the code').fill('(01)04012345678902(17)281130(10)AB');
  await page.getByRole('button', { name: 'Read', exact: true }).click();
  await page.getByText('The check digit is wrong', { exact: false }).waitFor();
  expect(await page.getByRole('button', { name: 'The box says the same' }).count()).toBe(0);
  await page.getByRole('button', { name: 'Enter by hand instead' }).click();
  expect(await page.getByLabel('Lot').inputValue()).toBe('');
});

test('a lot named at the chair is found again from the lot, and a recall shows at the chair', async () => {
  await openScan();
  await page.getByLabel('Or type the code').fill('(01)04012345678901(17)401130(10)CE-7');
  await page.getByRole('button', { name: 'Read', exact: true }).click();
  await page.getByRole('button', { name: 'The box says the same' }).click();
  await page.getByLabel('Generic class').selectOption('light-cured resin cement');
  await page.getByLabel('Own label').fill('Cement, shelf 2');
  await page.getByRole('button', { name: 'Save' }).click();
  await page.getByRole('link', { name: /Cement, shelf 2/ }).waitFor();

  await page.getByRole('link', { name: 'Today', exact: true }).click();
  await page
    .getByRole('button', { name: /Rehearse/ })
    .first()
    .click();
  await page.getByRole('button', { name: 'More' }).click();
  await page.getByRole('button', { name: 'Materials', exact: true }).click();
  await page.getByRole('button', { name: /Cement, shelf 2, lot CE-7, for/ }).click();
  await page.getByRole('button', { name: 'Another lot' }).waitFor();

  await page.goto(`${served.address}materials`);
  await page.getByRole('link', { name: /Cement, shelf 2/ }).click();
  await page.locator('.stock-cases li').waitFor();
  expect(await page.locator('.stock-cases li').count()).toBe(1);
  await page.getByRole('button', { name: 'Mark as recalled' }).click();
  await page.getByLabel('Why, and on whose word').fill('letter of 20 November');
  await page.getByRole('button', { name: 'Mark this lot' }).click();
  await page.getByText('Recalled: letter of 20 November').first().waitFor();

  await page.getByRole('link', { name: 'Today', exact: true }).click();
  await page.getByRole('button', { name: /Go on/ }).first().click();
  await page.getByText('Cement, lot CE-7: Recalled: letter of 20 November').waitFor();
});
