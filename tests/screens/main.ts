/**
 * Draws pictures of the built application into .screens/, for people who want to see what a change
 * does to the look: `npm run screens`.
 */
import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { launchBrowser } from '../tools/browser.ts';
import { buildForRun, serveBuilt } from '../tools/built-app.ts';
import prepareBrowser from '../tools/unpack-browser.ts';

const SIZES = [
  { name: 'tablet', width: 1180, height: 820 },
  { name: 'tablet-upright', width: 820, height: 1180 },
  { name: 'phone', width: 390, height: 844 },
];

const outDir = fileURLToPath(new URL('../../.screens/', import.meta.url));

await prepareBrowser();
await mkdir(outDir, { recursive: true });
const removeBuild = await buildForRun();
const served = await serveBuilt();
const browser = await launchBrowser();
for (const { name, width, height } of SIZES) {
  const page = await browser.newPage({ viewport: { width, height } });
  await page.goto(served.address);
  await page.locator('#root > *').first().waitFor();
  const path = join(outDir, `start-${name}.png`);
  await page.screenshot({ path });
  console.log(path);
  await page.close();
}
await browser.close();
await served.stop();
await removeBuild();
