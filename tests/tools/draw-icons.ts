/**
 * Draws the PNG icons in public/ from icon.svg. Run it after a change of the drawing:
 * `npx tsx tests/tools/draw-icons.ts`.
 */
import { readFile, writeFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { launchBrowser } from './browser.ts';

interface Icon {
  readonly file: string;
  readonly sizePx: number;
  /** The home screen of a device cuts its own corners, and a maskable icon is cut to a circle. */
  readonly fullBleed: boolean;
  /** The share of the width that the drawing takes; a maskable icon keeps to the inner 80 percent. */
  readonly scale: number;
}

const ICONS: readonly Icon[] = [
  { file: 'icon-192.png', sizePx: 192, fullBleed: false, scale: 1 },
  { file: 'icon-512.png', sizePx: 512, fullBleed: false, scale: 1 },
  { file: 'icon-maskable-512.png', sizePx: 512, fullBleed: true, scale: 0.78 },
  { file: 'apple-touch-icon.png', sizePx: 180, fullBleed: true, scale: 0.9 },
];

const publicDir = new URL('../../public/', import.meta.url);
const drawing = await readFile(new URL('icon.svg', publicDir), 'utf8');
const ground = /<rect[^>]*fill="([^"]+)"/.exec(drawing)?.[1] ?? 'none';

const browser = await launchBrowser();
const page = await browser.newPage();
for (const { file, sizePx, fullBleed, scale } of ICONS) {
  await page.setViewportSize({ width: sizePx, height: sizePx });
  const drawnPx = sizePx * scale;
  await page.setContent(`<style>
    body { margin: 0; height: 100vh; display: grid; place-items: center;
      background: ${fullBleed ? ground : 'none'} }
    svg { width: ${drawnPx}px; height: ${drawnPx}px }
  </style>${drawing}`);
  const png = await page.screenshot({ omitBackground: true });
  await writeFile(fileURLToPath(new URL(file, publicDir)), png);
}
await browser.close();
