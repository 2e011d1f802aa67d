import { expect, test, vi } from 'vitest';
import { launchBrowser } from './browser.ts';
import { holdClock } from './held-clock.ts';

test('the clock of a page is held also when the instant went past while it was asked for', async () => {
  const browser = await launchBrowser();
  const page = await browser.newPage();
  await page.clock.install();
  await page.goto('about:blank');
  const now = () => page.evaluate(() => Date.now());
  // As on a busy machine: the page's own now comes 300 ms late, once.
  const late = (await now()) + 100;
  vi.spyOn(page, 'evaluate').mockImplementationOnce(async () => {
    await new Promise((resolve) => setTimeout(resolve, 300));
    return late;
  });
  await holdClock(page);
  const held = await now();
  expect(held).toBeGreaterThan(late);
  await new Promise((resolve) => setTimeout(resolve, 50));
  expect(await now()).toBe(held);
  await page.clock.runFor(1000);
  expect(await now()).toBe(held + 1000);
  await browser.close();
});
