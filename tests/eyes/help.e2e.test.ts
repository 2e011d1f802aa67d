/** The help that people take with them: the first look in the app's own chair, and the card on paper. */
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { coachWords } from '../../src/words/tour-words.ts';
import { launchBrowser } from '../tools/browser.ts';
import { type Served, serveBuilt } from '../tools/built-app.ts';
import { openToday, pressOnce, readBar } from '../tools/chair-driver.ts';

let served: Served;
let browser: Browser;
let page: Page;

beforeAll(async () => {
  served = await serveBuilt();
  browser = await launchBrowser();
  const context = await browser.newContext({ viewport: { width: 1180, height: 820 } });
  page = await context.newPage();
});

afterAll(async () => {
  await browser.close();
  await served.stop();
});

/** A5 to Letter say no more than this; a reader of the file counts pages and reads words. */
async function readPdf(bytes: Uint8Array): Promise<{ pages: number; text: string }> {
  const pdf = await getDocument({ data: new Uint8Array(bytes), verbosity: 0 }).promise;
  const texts: string[] = [];
  for (let n = 1; n <= pdf.numPages; n += 1) {
    const { items } = await (await pdf.getPage(n)).getTextContent();
    texts.push(items.map((item) => ('str' in item ? item.str : '')).join(' '));
  }
  const pages = pdf.numPages;
  await pdf.destroy();
  return { pages, text: texts.join(' ').normalize('NFKC').replaceAll(/\s+/g, ' ') };
}

describe('the first look', () => {
  it('is offered on a new tablet, explains one thing at a time, and ends in a record', async () => {
    await openToday(page, served.address);
    await page.getByRole('button', { name: 'Take a first look' }).click();
    await page.locator('main.chair').waitFor();
    const said = new Set<string>();
    const startedAtMs = performance.now();
    for (let press = 0; press < 60; press += 1) {
      const { words } = await readBar(page);
      const coach = await page.locator('.coach-words').textContent({ timeout: 5000 });
      said.add(coach ?? '');
      if (words === 'Open the record') break;
      // A light is given its whole time; everything else may be pressed early in a rehearsal.
      if (words.startsWith('Light off')) await page.waitForTimeout(5200);
      await pressOnce(page);
    }
    console.info(`first look: ${((performance.now() - startedAtMs) / 1000).toFixed(0)} s`);
    expect([...said].sort()).toEqual(Object.values(coachWords.lessons).sort());
    await page.getByRole('button', { name: 'Open the record' }).click();
    await page.getByRole('heading', { name: 'First look' }).first().waitFor();
  });

  it('is no longer offered afterwards, and can be taken again from Clinic', async () => {
    await openToday(page, served.address);
    await page.getByText('Sound not heard yet').waitFor();
    expect(await page.getByRole('button', { name: 'Take a first look' }).count()).toBe(0);
    await page.goto(`${served.address}clinic`);
    await page.getByRole('button', { name: 'Take a first look' }).click();
    await page.locator('.coach-words').waitFor();
    await page.getByRole('button', { name: 'Leave the first look' }).click();
    await page.getByRole('heading', { name: 'Today', level: 1 }).waitFor();
  });
});

describe('the quick card on paper', () => {
  it.each(['A4', 'Letter'])('is one page of %s with keys, sounds and cautions', async (format) => {
    await page.goto(`${served.address}clinic`);
    await page.getByRole('button', { name: 'Quick card and keys' }).click();
    await page.getByRole('heading', { name: 'Quick card' }).waitFor();
    const paper = await readPdf(await page.pdf({ format, preferCSSPageSize: false }));
    expect(paper.pages).toBe(1);
    for (const words of [
      'Space, Enter, Page Down',
      'Three slow tones, rising',
      'When the tablet fails',
      'Keep an independent timer',
      'Instructions for use and licensed judgement govern',
    ]) {
      expect(paper.text).toContain(words);
    }
    expect(paper.text).not.toContain('Print, or save as PDF');
  });
});
