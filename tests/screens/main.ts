/**
 * Draws pictures of every screen of the built application into .screens/, for people who want to see
 * what a change does to the look: `npm run screens`. `index.html` there shows all of them.
 */
import { mkdir, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright-core';
import { drawStates } from '../sharing-ui/draw-states.ts';
import { launchBrowser } from '../tools/browser.ts';
import { buildForRun, serveBuilt } from '../tools/built-app.ts';
import { watchPictures } from '../tools/chair-driver.ts';
import { setTheme, THEMES, type Theme, visitEveryScreen } from '../tools/every-screen.ts';
import prepareBrowser from '../tools/unpack-browser.ts';

interface Size {
  readonly name: string;
  readonly width: number;
  readonly height: number;
  readonly themes: readonly Theme[];
}

const SIZES: readonly Size[] = [
  { name: 'wide', width: 1180, height: 820, themes: THEMES },
  { name: 'upright', width: 820, height: 1180, themes: THEMES },
  { name: 'phone', width: 390, height: 844, themes: ['light'] },
];
/** Until a resized page has found its new layout, in ms. */
const SETTLE_MS = 250;

const outDir = fileURLToPath(new URL('../../.screens/', import.meta.url));

/** Draws the screen that stands on the page in every size and theme. Answers the file names. */
async function drawAll(page: Page, screen: string): Promise<readonly string[]> {
  const files: string[] = [];
  for (const { name, width, height, themes } of SIZES) {
    await page.setViewportSize({ width, height });
    await page.waitForTimeout(SETTLE_MS);
    for (const theme of themes) {
      await setTheme(page, theme);
      const file = `${screen}-${name}-${theme}.png`;
      await page.screenshot({ path: join(outDir, file) });
      files.push(file);
    }
  }
  return files;
}

/** One page with a row of small pictures for each screen. */
function indexPage(rows: readonly { screen: string; files: readonly string[] }[]): string {
  const picture = (file: string): string =>
    `<a href="${file}"><img src="${file}" alt="${file}" title="${file}"></a>`;
  const row = ({ screen, files }: (typeof rows)[number]): string =>
    `<h2>${screen}</h2><p>${files.map(picture).join('')}</p>`;
  return `<!doctype html><meta charset="utf-8"><title>Screens</title>
<style>body { font: 16px sans-serif; background: #888 } p { display: flex; gap: 8px; margin: 0 }
h2 { margin: 12px 0 4px } img { height: 240px }</style>
${rows.map(row).join('\n')}`;
}

await prepareBrowser();
await rm(outDir, { recursive: true, force: true });
await mkdir(outDir, { recursive: true });
const removeBuild = await buildForRun();
const served = await serveBuilt();
const browser = await launchBrowser();
const context = await browser.newContext({ viewport: { width: 1180, height: 820 } });
await context.grantPermissions(['screen-wake-lock']).catch(() => undefined);
await watchPictures(context);
const page = await context.newPage();
const rows: { screen: string; files: readonly string[] }[] = [];
await visitEveryScreen(page, {
  address: served.address,
  look: async (screen) => {
    rows.push({ screen, files: await drawAll(page, screen) });
    await page.setViewportSize({ width: 1180, height: 820 });
    console.log(screen);
  },
});
await writeFile(join(outDir, 'index.html'), indexPage(rows));
console.log(join(outDir, 'index.html'));
// What a tablet shows of the clinic's store, which a page by itself never comes to.
console.log(await drawStates());
await browser.close();
await served.stop();
await removeBuild();
