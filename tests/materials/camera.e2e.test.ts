/**
 * The live camera in the built application: a film of an empty table and then of a label, as the
 * browser's own pretended camera plays it. What the label says is read back and taken over.
 */
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { launchBrowser } from '../tools/browser.ts';
import { type Served, serveBuilt } from '../tools/built-app.ts';
import { dim, drawn, type Picture, turned } from './pictures.ts';

const WIDTH = 640;
const HEIGHT = 480;
const TABLE_GREY = 90;

let folder = '';
let served: Served;

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'lutewatch-camera-'));
  served = await serveBuilt();
});

afterEach(async () => {
  await served.stop();
  await rm(folder, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 });
});

/** A label in the middle of a table; the table alone without one. */
function frameOf(label: Picture | null): Buffer {
  const grey = Buffer.alloc(WIDTH * HEIGHT, TABLE_GREY);
  const left = Math.floor((WIDTH - (label?.width ?? 0)) / 2);
  const top = Math.floor((HEIGHT - (label?.height ?? 0)) / 2);
  label?.grey.forEach((value, i) => {
    const at = (top + Math.floor(i / label.width)) * WIDTH + left + (i % label.width);
    grey[at] = Math.min(255, Math.max(0, Math.round(value)));
  });
  // Colourless: both colour planes of a 4:2:0 picture stand at their middle.
  const colours = Buffer.alloc((WIDTH / 2) * (HEIGHT / 2) * 2, 128);
  return Buffer.concat([Buffer.from('FRAME\n'), grey, colours]);
}

/** A film in the uncompressed YUV4MPEG2 form, which plays over and over. */
async function film(frames: readonly Buffer[]): Promise<string> {
  const path = join(folder, 'label.y4m');
  const head = Buffer.from(`YUV4MPEG2 W${WIDTH} H${HEIGHT} F10:1 Ip A1:1 C420jpeg\n`);
  await writeFile(path, Buffer.concat([head, ...frames]));
  return path;
}

async function pageWithCamera(path: string) {
  const browser = await launchBrowser({
    args: [
      '--use-fake-device-for-media-stream',
      '--use-fake-ui-for-media-stream',
      `--use-file-for-fake-video-capture=${path}`,
    ],
  });
  const page = await browser.newPage();
  await page.goto(`${served.address}materials`);
  await page.getByRole('button', { name: 'Scan a label' }).click();
  await page.getByRole('button', { name: 'Use the camera' }).click();
  return { browser, page };
}

test('a label held before the camera is read back in words and taken over', async () => {
  const code = await drawn('gs1datamatrix', '(01)04012345678901(17)281100(10)AB-12(21)77');
  const label = dim(turned(code, 12), 6);
  const table = Array.from({ length: 6 }, () => frameOf(null));
  const path = await film([...table, ...Array.from({ length: 20 }, () => frameOf(label))]);
  const { browser, page } = await pageWithCamera(path);
  try {
    const read = page.locator('.scan-read');
    await read.getByText('AB-12', { exact: true }).waitFor();
    await read.getByText('04012345678901', { exact: true }).waitFor();
    await read.getByText('its last day is meant', { exact: false }).waitFor();
    // The camera is let go once the label was read.
    expect(await page.locator('video:visible').count()).toBe(0);
    await page.getByRole('button', { name: 'The box says the same' }).click();
    expect(await page.getByLabel('Lot').inputValue()).toBe('AB-12');
    expect(await page.getByLabel('Expiry').inputValue()).toBe('2028-11-30');
  } finally {
    await browser.close();
  }
});
