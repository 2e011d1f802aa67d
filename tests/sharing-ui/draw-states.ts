/** Draws every state of sharing. */
import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { launchBrowser } from '../tools/browser.ts';
import { setTheme, type Theme } from '../tools/every-screen.ts';
import prepareBrowser from '../tools/unpack-browser.ts';
import { lookAtStates } from './look-at-states.ts';

const SIZES = [
  { name: 'wide', width: 1180, height: 820 },
  { name: 'upright', width: 820, height: 1180 },
] as const;
const SETTLE_MS = 200;

const outDir = fileURLToPath(new URL('../../.screens/sharing/', import.meta.url));

/**
 * Answers the folder.
 * @param only the beginning of the names that are wanted; empty for all.
 */
export async function drawStates(
  only = '',
  themes: readonly Theme[] = ['light', 'amber'],
): Promise<string> {
  await prepareBrowser();
  await mkdir(outDir, { recursive: true });
  const browser = await launchBrowser();
  await lookAtStates(browser, {
    only,
    look: async (page, { name, isInChair }) => {
      for (const { name: size, ...viewport } of SIZES) {
        await page.setViewportSize(viewport);
        for (const theme of themes) {
          await setTheme(page, theme);
          await page.waitForTimeout(SETTLE_MS);
          const path = join(outDir, `${name}-${size}-${theme}.png`);
          await page.screenshot({ path, fullPage: isInChair !== true });
        }
      }
      await page.setViewportSize(SIZES[0]);
      await setTheme(page, 'light');
      console.log(name);
    },
  });
  await browser.close();
  return outDir;
}
