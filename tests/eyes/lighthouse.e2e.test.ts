/**
 * Accessibility and good practice as a kept tool judges them: Lighthouse 12.2.3, 100 of 100. Today
 * and the chair in every run, as they stand; with LUTEWATCH_ALL_LOOKS=1 all places, and the first of
 * them loaded anew, which takes the tool a minute.
 */
import { createServer } from 'node:net';
import { type Flags, navigation, snapshot } from 'lighthouse';
import type { Browser } from 'playwright-core';
import puppeteer from 'puppeteer-core';
import { expect, test } from 'vitest';
import { launchBrowser } from '../tools/browser.ts';
import { serveBuilt } from '../tools/built-app.ts';

const CASE_ID = 'eight-upper-veneers';

/** Beside Today and the chair. */
const REST = [
  `/plan/${CASE_ID}`,
  '/clinic',
  '/set-up',
  '/record',
  '/protocols',
  '/materials',
  '/clinic/card',
];

const FLAGS: Flags = {
  onlyCategories: ['accessibility', 'best-practices'],
  logLevel: 'error',
  disableStorageReset: true,
  formFactor: 'desktop',
  screenEmulation: { disabled: true },
  throttlingMethod: 'provided',
};

async function freePort(): Promise<number> {
  const server = createServer();
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
  const address = server.address();
  await new Promise((done) => server.close(done));
  if (address === null || typeof address === 'string') throw new Error('no port');
  return address.port;
}

type Result = Awaited<ReturnType<typeof snapshot>>;

/** What falls short of 100, one line each, and how many checks had something to look at. */
function verdict(where: string, result: Result): { short: string[]; judged: number } {
  if (result === undefined) return { short: [`${where}: no result`], judged: 0 };
  const { categories, audits } = result.lhr;
  const all = Object.values(audits);
  const short = Object.values(categories).flatMap(({ id, score, auditRefs }) =>
    score === 1
      ? []
      : auditRefs
          .filter((ref) => ref.weight > 0 && (audits[ref.id]?.score ?? 1) < 1)
          .map((ref) => `${where}: ${id} ${score}: ${audits[ref.id]?.title}`),
  );
  return { short, judged: all.filter((audit) => audit.score !== null).length };
}

test('every place has 100 of 100 for accessibility and for good practice', async () => {
  const isWhole = process.env['LUTEWATCH_ALL_LOOKS'] === '1';
  const served = await serveBuilt();
  const port = await freePort();
  const owner: Browser = await launchBrowser({ args: [`--remote-debugging-port=${port}`] });
  const browser = await puppeteer.connect({
    browserURL: `http://127.0.0.1:${port}`,
    defaultViewport: { width: 1180, height: 820 },
  });
  const page = await browser.newPage();
  // The tool brings its own copy of the same driver.
  const seen = page as unknown as Parameters<typeof snapshot>[0];
  const short: string[] = [];
  let judgedLeast = Number.POSITIVE_INFINITY;
  const take = (where: string, result: Result): void => {
    const found = verdict(where, result);
    short.push(...found.short);
    judgedLeast = Math.min(judgedLeast, found.judged);
  };
  if (isWhole) {
    take('Today, loaded', await navigation(seen, served.address, { flags: FLAGS }));
  } else {
    await page.goto(served.address);
    await page.waitForSelector('button[aria-label^="Rehearse Eight"]');
    take('Today', await snapshot(seen, { flags: FLAGS }));
  }
  const go = async (path: string): Promise<void> => {
    await page.evaluate((to) => history.pushState(null, '', to), path);
    await page.waitForSelector('main h1, main.chair');
  };
  const places = isWhole ? REST : [];
  for (const path of places) {
    await go(path);
    take(path, await snapshot(seen, { flags: FLAGS }));
  }
  await go('/');
  await page.locator('button[aria-label^="Rehearse Eight"]').click();
  await page.waitForSelector('main.chair');
  take('/chair', await snapshot(seen, { flags: FLAGS }));
  await browser.disconnect();
  await owner.close();
  await served.stop();
  console.info(`Lighthouse: ${places.length + 2} looks, at least ${judgedLeast} checks each`);
  expect(short).toEqual([]);
  expect(judgedLeast).toBeGreaterThan(15);
}, 180_000);
