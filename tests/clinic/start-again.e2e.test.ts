/**
 * A clinic by its pages alone, in a real browser over a real server, when things are lost: a tablet leaves and joins
 * again, a code and a passphrase are wrong, every tablet is lost, and one starts again from the printed box. The
 * long run also puts a tablet out in mid-case, and has two tablets take one pen.
 */
import { Buffer } from 'node:buffer';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { present } from '../../src/base/assert.ts';
import { PASSPHRASE, preparedBackup, TITLE } from '../chair/one-unit.ts';
import { launchBrowser } from '../tools/browser.ts';
import type { Served } from '../tools/built-app.ts';
import { openToday, pressOnce } from '../tools/chair-driver.ts';
import { serverSuite, startClinic, type TestClinic } from '../tools/nats-server.ts';
import { isLong } from '../tools/run-size.ts';
import { serveClinic } from '../tools/served-clinic.ts';

const LEAD = 'quiet harbour at ebb';
const WITHIN = { timeout: 20_000 };

await serverSuite('a clinic that loses tablets', (server) => {
  let clinic: TestClinic;
  let served: Served;
  let browser: Browser;
  let lead: Page;
  let second: Page;
  let sheet: readonly string[] = [];
  let said: readonly string[] = [];

  const button = (page: Page, name: string) => page.getByRole('button', { name, exact: true });
  const tablets = (page: Page) => page.goto(`${served.address}clinic/tablets`);
  const newTablet = async (): Promise<Page> => {
    const page = await (await browser.newContext()).newPage();
    page.setDefaultTimeout(WITHIN.timeout);
    await tablets(page);
    return page;
  };
  const joinWith = async (page: Page, code: string, name: string): Promise<void> => {
    await page.getByLabel('Code').first().fill(code);
    await page.getByLabel('Name of this tablet').first().fill(name);
    await button(page, 'Join').click();
  };
  const invite = async (): Promise<string> => {
    await tablets(lead);
    await lead.getByText('Open', { exact: true }).waitFor();
    await lead.getByLabel('Passphrase of the lead').fill(LEAD);
    await button(lead, 'Show a code').click();
    const label = await lead.getByRole('img', { name: /^Code:/ }).getAttribute('aria-label');
    return present(label, 'a code').replace(/^Code: /, '');
  };
  const letIn = async (page: Page, name: string): Promise<void> => {
    await joinWith(page, await invite(), name);
    await button(lead, 'Yes, the same').click();
    await page.getByText('Open', { exact: true }).waitFor();
    await lead.getByText(`${name} takes part now.`).waitFor();
  };
  const takeOver = async (page: Page, why: string): Promise<void> => {
    await button(page, 'Take over here').click(WITHIN);
    await page.getByLabel('Why is it taken over?').fill(why);
    await button(page, 'Take over').click();
    await page.locator('.lw-bar').waitFor();
  };

  beforeAll(async () => {
    const [started, launched] = await Promise.all([startClinic(server), launchBrowser()]);
    clinic = started;
    browser = launched;
    ({ served, said } = await serveClinic(clinic, server));
    [lead, second] = await Promise.all([newTablet(), newTablet()]);
  }, 60_000);

  afterAll(async () => {
    await browser?.close();
    await served?.stop();
    await clinic?.end();
  });

  test('is founded, and its box is printed', async () => {
    await expect.poll(() => said.find((line) => line.startsWith('Code')), WITHIN).toBeDefined();
    await joinWith(lead, said[0]?.split(': ')[1] ?? '', 'Chair 1');
    await lead.getByLabel('Passphrase of the lead').fill(LEAD);
    await lead.getByLabel('Repeat it').fill(LEAD);
    await button(lead, 'Found the clinic').click();
    await lead.getByRole('link', { name: 'Print the box' }).click();
    const lines = lead.locator('.box-groups > li');
    await lines.first().waitFor();
    sheet = await lines.allInnerTexts();
  });

  test.runIf(isLong)('has one tablet where one left and joined again', async () => {
    await letIn(second, 'Chair 2');
    await button(second, 'Leave the store').click();
    await button(second, 'Leave').click();
    await second.getByLabel('Code').waitFor();
    await letIn(second, 'Chair 2 again');
    const left = lead.getByRole('listitem', { name: 'Chair 2', exact: true });
    await left.getByText('Left the store and joined again: now Chair 2 again').waitFor();
    // What is heard of is heard of under its new place alone.
    await lead.getByRole('listitem', { name: 'Chair 2 again' }).getByText('Runs no case').waitFor();
  });

  test('starts again from the sheet and the passphrase, once every tablet is lost', async () => {
    await Promise.all([lead.context().close(), second.context().close()]);
    const page = await newTablet();
    await page.getByText('Start again from the box').click();
    const typed = page.getByLabel('Text of the box');
    await typed.fill(
      [...sheet.slice(0, 2), `${sheet[2]?.slice(0, -2)}ZZ`, ...sheet.slice(3)].join('\n'),
    );
    const passphrase = page.getByLabel('Passphrase of the lead');
    await passphrase.fill(`${LEAD}?`);
    await page.getByLabel('Name of this tablet').last().fill('New chair');
    const start = button(page, 'Start again');
    await start.click();
    const wrong = page.getByRole('alert');
    await wrong.filter({ hasText: /^Text of the box, line 3:/ }).waitFor();
    await typed.fill(sheet.join('\n').toLowerCase());
    await start.click();
    await wrong.filter({ hasText: 'Passphrase: the lead’s expected, another one came.' }).waitFor();
    expect(await wrong.count()).toBe(1);
    await passphrase.fill(LEAD);
    await start.click();
    await page.getByText('Open', { exact: true }).waitFor();
    // Whoever belonged to the clinic is read from the store: what is known of them is not made up.
    await page
      .getByRole('listitem', { name: 'Chair 1' })
      .getByText(/^Not heard of/)
      .waitFor();
    lead = page;
  });

  test.runIf(isLong)(
    'goes on with a case whose tablet is put out, and shows both ends of it on both',
    async () => {
      const third = await newTablet();
      await third.goto(`${served.address}backup`);
      const buffer = Buffer.from(await preparedBackup(Date.now()));
      const file = { name: 'a.backup', mimeType: 'application/octet-stream', buffer };
      await third.locator('input[type=file]').setInputFiles(file);
      await third.getByLabel('Passphrase').last().fill(PASSPHRASE);
      await button(third, 'Restore').click();
      await third.getByText('The backup is restored').waitFor();
      await tablets(third);
      await letIn(third, 'Chair 3');
      await openToday(third, served.address);
      await button(third, `Begin ${TITLE}`).click();
      await third.waitForURL('**/chair');
      await pressOnce(third);
      await openToday(lead, served.address);
      await button(lead, `Look on at ${TITLE}`).click();
      // The tablet is there: at no time is its case offered as one whose tablet is gone.
      const pen = lead.locator('.chair-pen');
      await pen.getByText('This case is with Chair 3. Looking for that tablet.').waitFor();
      await pen.getByText('This case runs on Chair 3. Press there.').waitFor();
      expect(await button(lead, 'Take over here').count()).toBe(0);

      await clinic.kill();
      await takeOver(lead, 'Chair 3 is silent');
      for (const page of [lead, third, third]) await pressOnce(page);
      await clinic.start();
      for (const page of [lead, third]) await page.getByText('This case has two ends.').waitFor();
      for (const page of [lead, third]) {
        await page.goto(`${served.address}clinic/tablets/conflicts`);
        await page.getByRole('heading', { name: /^One veneer, from entry \d+ on$/ }).waitFor();
        expect(await page.getByRole('heading', { name: /^One veneer, from entry/ }).count()).toBe(
          1,
        );
        await openToday(page, served.address);
        expect(await page.getByText(/not as it was signed/).count()).toBe(0);
      }

      await tablets(lead);
      await button(lead, 'Put out Chair 3').click(WITHIN);
      await lead.getByRole('textbox', { name: 'Why' }).fill('lost');
      await lead.getByRole('dialog').getByLabel('Passphrase of the lead').fill(LEAD);
      await button(lead, 'Put it out').click();
      await lead.getByRole('dialog').waitFor({ state: 'detached' });
      await third.getByText('Not let in by the clinic’s store: keeps on its own').waitFor();
    },
    180_000,
  );

  test.runIf(isLong)(
    'tells a server that is not there from a code that is wrong',
    async () => {
      const page = await newTablet();
      await clinic.kill();
      await joinWith(page, 'K7QZ M3XW 9DTR PB4F', 'Chair 4');
      await page.getByText(/^There is no line to the server\./).waitFor();
      await clinic.start();
      await button(page, 'Join').click();
      await page.getByText(/^Code: the one that the other screen shows expected/).waitFor();
      await button(page, 'Try again').click();
      expect(await page.getByLabel('Code').inputValue()).toBe('K7QZ M3XW 9DTR PB4F');
    },
    60_000,
  );
});
