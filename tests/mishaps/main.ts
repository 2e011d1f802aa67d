/**
 * Takes a picture of the chair for every row of the mishap tables and writes them with their page into
 * docs/mishaps: `npm run mishaps`. Read each as a calm colleague would: is it one true thing, are the words
 * for these units, is what is asked first right? What was changed on reading is kept in `read.json`.
 */
import { mkdir, readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright-core';
import { createServer } from 'vite';
import { launchBrowser } from '../tools/browser.ts';
import prepareBrowser from '../tools/unpack-browser.ts';
import { mishapPage } from './page.ts';
import type { Shown } from './picture-page.tsx';
import { played } from './play.ts';
import { type MishapRow, ROWS } from './table.ts';

const LANDSCAPE = { width: 1180, height: 820 };
const PORTRAIT = { width: 820, height: 1180 };
/** These are drawn upright too. */
const UPRIGHT = new Set([
  'etched-saliva',
  'unit-dropped',
  'bead-firm',
  'light-failed-tack',
  'cement-over',
]);
/** Until late parts are loaded and the layout stands, in ms. */
const SETTLE_MS = 150;
/** Quality of the pictures: small enough to be kept, good enough to read every word. */
const JPEG_QUALITY = 28;
/** Pictures are drawn a little smaller than the screen. */
const SCALE = 0.68;

const here = (path: string): string => fileURLToPath(new URL(path, import.meta.url));
const outDir = here('../../docs/mishaps/');
const sharpDir = here('../../.screens/mishaps/');

async function draw(page: Page, file: string): Promise<void> {
  await page.waitForTimeout(SETTLE_MS);
  const path = join(outDir, 'pictures', file);
  await page.screenshot({ path, type: 'jpeg', quality: JPEG_QUALITY });
  // Without loss, for who wants to look closely.
  await page.screenshot({ path: join(sharpDir, file.replace('.jpg', '.png')) });
}

/** Draws one row; answers the names of its files. */
async function drawRow(page: Page, row: MishapRow): Promise<readonly string[]> {
  const chair = played(row.cases[0] ?? '', row.script);
  const shown: Shown = { records: chair.log.records, stamp: chair.stamp };
  await page.evaluate((given) => window.showMishap(given), shown);
  await page.locator('main.chair .lw-bar').waitFor();
  // The instruction is loaded late.
  await page.locator('.chair-instruction, .chair-clock > .lw-clock').first().waitFor();
  await draw(page, `${row.id}.jpg`);
  if (!UPRIGHT.has(row.id)) return [`${row.id}.jpg`];
  await page.setViewportSize(PORTRAIT);
  await draw(page, `${row.id}-upright.jpg`);
  await page.setViewportSize(LANDSCAPE);
  return [`${row.id}.jpg`, `${row.id}-upright.jpg`];
}

await prepareBrowser();
const only = process.argv[2] ?? '';
if (only === '') await rm(join(outDir, 'pictures'), { recursive: true, force: true });
await mkdir(join(outDir, 'pictures'), { recursive: true });
await mkdir(sharpDir, { recursive: true });
const server = await createServer({
  root: here('../..'),
  server: { port: 0, host: '127.0.0.1', hmr: false },
  appType: 'custom',
  logLevel: 'warn',
});
await server.listen();
server.middlewares.use('/picture.html', (_, response) => {
  response.setHeader('Content-Type', 'text/html');
  void server
    .transformIndexHtml(
      '/picture.html',
      '<!doctype html><html lang="en"><meta name="viewport" content="width=device-width"><body><script type="module" src="/tests/mishaps/picture-page.tsx"></script></body></html>',
    )
    .then((html) => response.end(html));
});
const address = server.resolvedUrls?.local[0] ?? '';
const browser = await launchBrowser();
const page = await browser.newPage({ viewport: LANDSCAPE, deviceScaleFactor: SCALE });
page.on('pageerror', (fault) => console.error(fault.message));
await page.goto(`${address}picture.html`);
await page.waitForFunction(() => 'showMishap' in window, undefined, { timeout: 60_000 });
const drawn = new Map<string, readonly string[]>();
for (const row of ROWS.filter(({ id }) => id.startsWith(only))) {
  drawn.set(row.id, await drawRow(page, row));
  console.log(row.id);
}
await browser.close();
await server.close();
if (only === '') {
  const read: unknown = JSON.parse(await readFile(join(outDir, 'read.json'), 'utf8'));
  await writeFile(join(outDir, 'README.md'), mishapPage(ROWS, { drawn, read }));
}
