import { afterEach, expect, test, vi } from 'vitest';
import { browserCommand, launchBrowser } from '../tools/browser.ts';
import { unpackBundledBrowser } from '../tools/bundled-browser.ts';

const bundledRunsHere = process.platform === 'linux' && process.arch === 'x64';

afterEach(() => vi.unstubAllEnvs());

test('CHROME_BIN goes before every browser that is installed', () => {
  vi.stubEnv('LUTEWATCH_HIDE_SYSTEM_BROWSERS', '');
  vi.stubEnv('CHROME_BIN', '/somewhere/chrome');
  expect(browserCommand().executablePath).toBe('/somewhere/chrome');
});

test('hiding the browsers of the machine leaves the one among the packages', () => {
  vi.stubEnv('LUTEWATCH_HIDE_SYSTEM_BROWSERS', '1');
  vi.stubEnv('CHROME_BIN', '/somewhere/chrome');
  expect(browserCommand().executablePath).toMatch(/node_modules.*chromium$/);
});

test.runIf(bundledRunsHere)('the browser among the packages draws text', async () => {
  vi.stubEnv('LUTEWATCH_HIDE_SYSTEM_BROWSERS', '1');
  await unpackBundledBrowser();
  const browser = await launchBrowser();
  const page = await browser.newPage();
  await page.setContent('<span>Lutewatch 12</span>');
  const box = await page.locator('span').boundingBox();
  expect(box?.width).toBeGreaterThan(20);
  await browser.close();
});
