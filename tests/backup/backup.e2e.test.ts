/**
 * A backup carried from one tablet to another in the built application, with the database and the
 * private files of a real browser on both sides.
 */
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { launchPersistent } from '../tools/browser.ts';
import { type Served, serveBuilt } from '../tools/built-app.ts';

const PASSPHRASE = 'ebb tide over quiet sand';
let folder = '';
let served: Served;

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'lutewatch-backup-'));
  served = await serveBuilt();
});

afterEach(async () => {
  await served.stop();
  await rm(folder, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 });
});

async function rehearsed(page: Page, presses: number): Promise<void> {
  await page.goto(served.address);
  await page
    .getByRole('button', { name: /Rehearse/ })
    .first()
    .click();
  const chair = page.locator('main.chair');
  for (let press = 0; press < presses; press += 1) {
    const before = Number(await chair.getAttribute('data-records'));
    await expect
      .poll(async () => {
        await page.keyboard.press('PageDown');
        return Number(await chair.getAttribute('data-records'));
      })
      .toBeGreaterThan(before);
  }
  await expect.poll(() => chair.getAttribute('data-pending')).toBe('0');
}

async function backedUp(page: Page, path: string): Promise<void> {
  await page.goto(`${served.address}backup`);
  await page.getByLabel('Passphrase').first().fill(PASSPHRASE);
  await page.getByLabel('Passphrase again').fill(PASSPHRASE);
  const [file] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Make the file' }).click(),
  ]);
  await file.saveAs(path);
}

async function restore(page: Page, path: string, passphrase: string): Promise<void> {
  await page.locator('input[type=file]').setInputFiles(path);
  await page.getByLabel('Passphrase').last().fill(passphrase);
  await page.getByRole('button', { name: 'Restore' }).click();
}

test('a case goes to another tablet once, and a wrong passphrase changes nothing', async () => {
  const path = join(folder, 'carried.backup');
  const first = await launchPersistent(join(folder, 'first'));
  const source = await first.newPage();
  // The cold items, then what the opening pause asks no answer for.
  await rehearsed(source, 2);
  await backedUp(source, path);
  await source.goto(`${served.address}record`);
  await source.locator('.cases a').first().click();
  const head = await source.locator('.record code').last().textContent();
  await first.close();

  const second = await launchPersistent(join(folder, 'second'));
  const target = await second.newPage();
  await target.goto(`${served.address}backup`);
  await restore(target, path, 'another passphrase');
  await target.getByText('The passphrase does not open this file. Nothing was changed.').waitFor();
  await restore(target, path, PASSPHRASE);
  await target.getByText('The backup is restored').waitFor();
  expect(await target.getByText('Cases added').locator('xpath=../dd').textContent()).toBe('1');
  await restore(target, path, PASSPHRASE);
  await expect
    .poll(() => target.getByText('Cases added').locator('xpath=../dd').textContent())
    .toBe('0');

  await target.reload();
  await target.goto(`${served.address}record`);
  await target.locator('.cases a').first().waitFor();
  expect(await target.locator('.cases > li').count()).toBe(1);
  await target.locator('.cases a').first().click();
  await target.getByText(head ?? 'no hash').waitFor();
  await second.close();
});

test('a case is deleted only after it was exported, and leaves a line behind', async () => {
  const context = await launchPersistent(join(folder, 'only'));
  const page = await context.newPage();
  await rehearsed(page, 1);
  await page.goto(`${served.address}record`);
  await page.locator('.cases a').first().waitFor();
  expect(await page.getByRole('button', { name: /^Delete/ }).count()).toBe(0);

  await page.locator('.cases a').first().click();
  await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save: Journal' }).click(),
  ]);
  await page.getByText('Exported as it stands', { exact: false }).waitFor();
  await page.goto(`${served.address}record`);
  await page.getByRole('button', { name: /^Delete/ }).click();
  await page.getByLabel('Deleted by').fill('AN');
  await page.getByLabel('Reason').fill('kept long enough');
  await page.getByRole('button', { name: 'Delete this case' }).click();
  const line = page.getByRole('cell', { name: 'kept long enough' });
  await line.waitFor();
  await expect.poll(() => page.locator('.cases > li').count()).toBe(0);
  await page.reload();
  await line.waitFor();
  await context.close();
});
