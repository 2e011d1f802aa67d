/**
 * Files that come later. One that does not come (a server that answers badly, a cache with a hole) leaves the
 * rest as it is; one that comes takes nothing away that stood there already.
 */
import { expect, it } from 'vitest';
import { builtInBrowser } from '../tools/built-in-browser.ts';
import { openToday, pressOnce, rehearse } from '../tools/chair-driver.ts';

const app = builtInBrowser();

it.each(['LeadDeskOverdue', 'TodayRecalls'])(
  'Today stands without %s, says so, and loads again',
  async (file) => {
    const context = await app.browser.newContext({ serviceWorkers: 'block' });
    const isFile = ({ pathname }: URL) =>
      pathname.startsWith(`/assets/${file}-`) && pathname.endsWith('.js');
    let refused = 0;
    await context.route(isFile, async (route) => {
      refused += 1;
      await route.abort();
    });
    const page = await context.newPage();
    page.setDefaultTimeout(20_000);
    await openToday(page, app.address);
    await page.getByText('A part of this page is missing.').first().waitFor();
    expect(refused).toBeGreaterThan(0);
    await page.getByRole('button', { name: 'Take a first look' }).waitFor();
    await context.unroute(isFile);
    await page.getByRole('button', { name: 'Load again' }).first().click();
    await page.getByRole('button', { name: 'Take a first look' }).waitFor();
    expect(await page.getByText('A part of this page is missing.').count()).toBe(0);
    await context.close();
  },
);

it('what Today has shown does not go again while the rest of it comes', async () => {
  const context = await app.browser.newContext({ serviceWorkers: 'block' });
  const page = await context.newPage();
  page.setDefaultTimeout(20_000);
  await openToday(page, app.address);
  await rehearse(page, { title: 'Two upper central veneers', speed: 1 });
  await pressOnce(page);
  // At every picture: does the case that is open stand there?
  await context.addInitScript(() => {
    const seen: boolean[] = [];
    Object.assign(globalThis, { seen });
    const look = () => {
      const row = document.querySelector('.today-hero');
      const stands = row?.checkVisibility() ?? false;
      if (stands !== (seen.at(-1) ?? false)) seen.push(stands);
      requestAnimationFrame(look);
    };
    look();
  });
  await page.goto(app.address);
  await page.getByText('Not finished').waitFor();
  await page.waitForLoadState('networkidle');
  await page.waitForTimeout(500);
  expect(await page.evaluate(() => (globalThis as { seen?: boolean[] }).seen)).toEqual([true]);
  await context.close();
});
